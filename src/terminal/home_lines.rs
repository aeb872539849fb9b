//! The home screen in plain lines: the dressings with their numbers, and one of them chosen. Owns
//! the loop over lines; what is offered comes in, what is chosen goes out, and nothing is opened here.

use super::home::HomeItem;
use crate::words::lines::{HOME, home_unknown};
use std::io::{self, BufRead, Write};

/// Lists the items with their numbers until one is chosen: by its number, or the first by an empty
/// line. `None` where she leaves or the input ends.
///
/// # Errors
/// Only from reading and writing lines.
pub fn choose(
    items: &[HomeItem],
    places: &[String],
    input: &mut dyn BufRead,
    out: &mut dyn Write,
) -> io::Result<Option<usize>> {
    writeln!(out, "{HOME}")?;
    list(items, places, out)?;
    let mut line = String::new();
    loop {
        write!(out, "> ")?;
        out.flush()?;
        line.clear();
        if input.read_line(&mut line)? == 0 {
            writeln!(out)?;
            return Ok(None);
        }
        match line.trim() {
            "" => return Ok(Some(0)),
            "quit" | "q" => return Ok(None),
            "say" | "." | "help" | "h" | "?" => list(items, places, out)?,
            other => match other.parse::<usize>() {
                Ok(n) if (1..=items.len()).contains(&n) => return Ok(Some(n - 1)),
                _ => writeln!(out, "{}", home_unknown(other, items.len()))?,
            },
        }
    }
}

fn list(items: &[HomeItem], places: &[String], out: &mut dyn Write) -> io::Result<()> {
    for place in places {
        writeln!(out, "  {place}")?;
    }
    for (number, item) in (1..).zip(items) {
        if item.standing.is_empty() {
            writeln!(out, "  {number}: {}.", item.name)?;
        } else {
            writeln!(out, "  {number}: {}: {}", item.name, item.standing)?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chosen(typed: &str) -> (Option<usize>, String) {
        let item = |name: &str, standing: &str| HomeItem {
            name: name.to_owned(),
            standing: standing.to_owned(),
        };
        let items = [
            item("Go on with runner", "Thread: batch 7 of 24."),
            item("Practice", ""),
        ];
        let mut out = Vec::new();
        let places = ["Dressings in ./sessions".to_owned()];
        let n = choose(&items, &places, &mut typed.as_bytes(), &mut out).unwrap();
        (n, String::from_utf8(out).unwrap())
    }

    #[test]
    fn a_number_an_empty_line_or_leaving() {
        assert_eq!(chosen("2\n").0, Some(1));
        assert_eq!(chosen("\n").0, Some(0));
        assert_eq!(chosen("quit\n").0, None);
        assert_eq!(chosen("").0, None);
        let (n, said) = chosen("7\nrunner\n1\n");
        assert_eq!(n, Some(0));
        assert!(
            said.contains("\"7\" is no number of the list. Type 1 to 2"),
            "{said}"
        );
        assert!(said.starts_with("endsmeet, line mode: "), "{said}");
        assert!(
            said.contains("  1: Go on with runner: Thread: batch 7 of 24.\n"),
            "{said}"
        );
    }
}
