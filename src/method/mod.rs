//! The steps as data: ids, parse, content check. A leaf; pure.
