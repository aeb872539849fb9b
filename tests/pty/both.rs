//! The real program and the same dressing in this process, key by key: after each the screens must
//! agree. Owns the leading on; what is wanted of it stands in the tests.

use super::{Mirror, Pty, endsmeet};
use endsmeet::dressing::View;
use endsmeet::hand::Key;
use std::path::Path;

/// Both together: every key goes to the program and to the mirror, and the screens must agree.
pub struct Both {
    pub pty: Pty,
    pub mirror: Mirror,
}

impl Both {
    /// Presses and waits until the program shows what the mirror shows; the first row is left
    /// out, since it says how long the rest will take.
    pub fn press(&mut self, keys: &[Key]) {
        let bytes: String = keys
            .iter()
            .map(|key| match key {
                Key::Space => " ".to_owned(),
                Key::Enter => "\r".to_owned(),
                Key::Backspace => "\x7f".to_owned(),
                Key::Char(c) => c.to_string(),
                other => panic!("no bytes for {other:?}"),
            })
            .collect();
        self.pty.send(&bytes);
        let expected = self.mirror.press(keys, self.pty.size);
        self.pty.wait_until(&expected.join("\n"), |pty| {
            let rows = pty.rows();
            rows.len() == expected.len() && rows[1..] == expected[1..]
        });
    }

    pub fn type_number(&mut self, number: &str) {
        let mut keys: Vec<Key> = number.chars().map(Key::Char).collect();
        keys.push(Key::Enter);
        self.press(&keys);
    }

    /// Presses on, answering every look as the loom would, until it is as wanted.
    pub fn lead(&mut self, wanted: impl Fn(&View) -> bool) {
        for _ in 0..3000 {
            if wanted(&self.mirror.dressing().view()) {
                return;
            }
            match super::super::common::true_answer(self.mirror.dressing()) {
                Some(number) => self.type_number(&number),
                None => self.press(&[Key::Space]),
            }
        }
        panic!("never came to it");
    }
}

/// The dressing of this folder gone on with, without the guard against double presses.
pub fn resumed(folder: &Path, size: (u16, u16)) -> Pty {
    let command = endsmeet(folder, &["resume", "--guard-ms", "0"]);
    let pty = Pty::start(command, size);
    pty.wait_for("? help");
    pty
}
