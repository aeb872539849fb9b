//! The voice at work, in a thread of its own so that no press waits for it. Owns the thread and the
//! order: silence the old call, say the new one, reap what has ended.

use super::program::{Ended, Program, Speaking};
use super::queue::{Much, Queue};
use crate::words::spoken::Said;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

/// How often a speaking program is looked at.
const LOOK: Duration = Duration::from_millis(20);

/// A voice. Dropping it silences it.
#[derive(Debug)]
pub struct Voice {
    moments: Option<Sender<Vec<Said>>>,
    thread: Option<JoinHandle<()>>,
    failed: Arc<Mutex<bool>>,
    told: bool,
}

impl Voice {
    /// A voice that tries these programs in their order, going on to the next where one fails.
    #[must_use]
    pub fn new(much: Much, programs: Vec<Program>) -> Self {
        let failed = Arc::new(Mutex::new(programs.is_empty() && much != Much::Nothing));
        if programs.is_empty() || much == Much::Nothing {
            return Self {
                moments: None,
                thread: None,
                failed,
                told: false,
            };
        }
        let (sender, receiver) = channel();
        let tell = Arc::clone(&failed);
        let thread = std::thread::Builder::new()
            .name("voice".to_owned())
            .spawn(move || Mouth::new(much, programs, tell).speak(&receiver))
            .ok();
        Self {
            moments: thread.is_some().then_some(sender),
            thread,
            failed,
            told: false,
        }
    }

    /// Says what belongs to this moment, in place of what is being said. `true` once: no voice can
    /// be had, and she should be told so.
    pub fn say(&mut self, said: Vec<Said>) -> bool {
        let gone = self
            .moments
            .as_ref()
            .is_some_and(|moments| moments.send(said).is_err());
        let failed = gone || *self.failed.lock().unwrap_or_else(PoisonError::into_inner);
        let tell = failed && !self.told;
        self.told |= tell;
        tell
    }
}

impl Drop for Voice {
    fn drop(&mut self) {
        self.moments = None;
        if let Some(thread) = self.thread.take() {
            // a thread that panicked has ended the program already
            let _ = thread.join();
        }
    }
}

/// What the thread holds.
struct Mouth {
    queue: Queue,
    programs: Vec<Program>,
    speaking: Option<(Speaking, String)>,
    failed: Arc<Mutex<bool>>,
}

impl Mouth {
    fn new(much: Much, mut programs: Vec<Program>, failed: Arc<Mutex<bool>>) -> Self {
        // the one to try first is taken from the end
        programs.reverse();
        Self {
            queue: Queue::new(much),
            programs,
            speaking: None,
            failed,
        }
    }

    fn speak(mut self, moments: &Receiver<Vec<Said>>) {
        loop {
            let moment = if self.speaking.is_some() {
                moments.recv_timeout(LOOK)
            } else {
                moments.recv().map_err(|_| RecvTimeoutError::Disconnected)
            };
            match moment {
                Ok(said) => {
                    if self.queue.offer(&said) {
                        self.hush();
                        self.next();
                    }
                }
                Err(RecvTimeoutError::Timeout) => self.look(),
                Err(RecvTimeoutError::Disconnected) => return self.hush(),
            }
        }
    }

    /// Ends what is being said.
    fn hush(&mut self) {
        if let Some((speaking, _)) = self.speaking.take() {
            drop(speaking);
            if let Some(program) = self.programs.last() {
                program.silence();
            }
        }
    }

    fn look(&mut self) {
        let Some((speaking, text)) = &mut self.speaking else {
            return;
        };
        match speaking.ended() {
            Ended::NotYet => {}
            Ended::Well => {
                self.speaking = None;
                self.next();
            }
            Ended::Badly => {
                let text = std::mem::take(text);
                self.speaking = None;
                self.programs.pop();
                self.begin(text);
            }
        }
    }

    fn next(&mut self) {
        if let Some(text) = self.queue.take() {
            self.begin(text);
        }
    }

    /// Says it with the first program that can be started.
    fn begin(&mut self, text: String) {
        while let Some(program) = self.programs.last() {
            match program.say(&text) {
                Ok(speaking) => {
                    self.speaking = Some((speaking, text));
                    return;
                }
                Err(_) => {
                    self.programs.pop();
                }
            }
        }
        *self.failed.lock().unwrap_or_else(PoisonError::into_inner) = true;
    }
}
