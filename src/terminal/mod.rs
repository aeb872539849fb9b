//! The terminal: driver, keys, screens, digits, pictures, lines.
