//! A disk in memory that loses power. What was written and not synced may be kept, dropped, reordered
//! or torn; any call can be made to fail, once or from then on; the disk can be full.
//!
//! It is harder than real file systems: names and bytes reach the disk in any order, a file can
//! grow by zeros that were never written, and a sync that failed may forget what it was to write.

use endsmeet::journal::{Disk, Found, Handle, Locked, Rights, Want};
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard};

/// Bytes that reach the disk together, unless they are torn.
const SECTOR: usize = 512;

/// Numbers that are the same for the same seed.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// SplitMix64.
    pub fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, n: u64) -> u64 {
        if n == 0 { 0 } else { self.roll() % n }
    }

    pub fn one_in(&mut self, n: u64) -> bool {
        self.below(n) == 0
    }
}

/// A call that fails.
#[derive(Debug, Clone, Copy)]
pub struct Fault {
    /// The number of the call, from 1.
    pub at: u64,
    /// Whether every call after it fails too.
    pub forever: bool,
    /// The system's number of the error.
    pub code: i32,
}

#[derive(Debug, Clone)]
enum Change {
    Write { at: usize, bytes: Vec<u8> },
    Cut(usize),
}

#[derive(Debug, Clone, Default)]
struct Inode {
    /// What programs read.
    cache: Vec<u8>,
    /// What is on the disk for sure.
    durable: Vec<u8>,
    /// What was done since.
    pending: Vec<Change>,
}

#[derive(Debug, Clone)]
enum Naming {
    Add(PathBuf, u64),
    Remove(PathBuf),
    Rename(PathBuf, PathBuf, u64),
}

#[derive(Debug)]
struct World {
    files: BTreeMap<u64, Inode>,
    names: BTreeMap<PathBuf, u64>,
    durable_names: BTreeMap<PathBuf, u64>,
    pending_names: Vec<Naming>,
    locks: BTreeMap<u64, u64>,
    next: u64,
    /// Handles of an earlier start are dead.
    start: u64,
    calls: u64,
    off_at: Option<u64>,
    fault: Option<Fault>,
    free: Option<u64>,
    dice: Dice,
}

/// The disk; clones are the same disk.
#[derive(Debug, Clone)]
pub struct MemDisk(Arc<Mutex<World>>);

#[derive(Debug)]
struct MemHandle {
    disk: MemDisk,
    inode: u64,
    start: u64,
    id: u64,
    writes: bool,
}

impl MemDisk {
    pub fn new(seed: u64) -> Self {
        Self(Arc::new(Mutex::new(World {
            files: BTreeMap::new(),
            names: BTreeMap::new(),
            durable_names: BTreeMap::new(),
            pending_names: Vec::new(),
            locks: BTreeMap::new(),
            next: 1,
            start: 1,
            calls: 0,
            off_at: None,
            fault: None,
            free: None,
            dice: Dice::new(seed),
        })))
    }

    fn world(&self) -> MutexGuard<'_, World> {
        self.0.lock().unwrap()
    }

    /// How many calls were made so far.
    pub fn calls(&self) -> u64 {
        self.world().calls
    }

    /// The power goes before the call that comes so many calls from now (1: the next one).
    pub fn power_goes_in(&self, calls: u64) {
        let mut world = self.world();
        world.off_at = Some(world.calls + calls);
    }

    /// The call that comes so many calls from now fails.
    pub fn fail_in(&self, calls: u64, forever: bool, code: i32) {
        let mut world = self.world();
        let at = world.calls + calls;
        world.fault = Some(Fault { at, forever, code });
    }

    pub fn no_more_faults(&self) {
        self.world().fault = None;
    }

    /// How many bytes there is room for; `None`: any number.
    pub fn room(&self, bytes: Option<u64>) {
        self.world().free = bytes;
    }

    /// All programs end; what they wrote is still in the system's memory.
    pub fn kill(&self) {
        let mut world = self.world();
        world.start += 1;
        world.locks.clear();
        world.off_at = None;
    }

    /// The power goes and comes back.
    pub fn power_cut(&self) {
        self.kill();
        let mut world = self.world();
        let World {
            files,
            names,
            durable_names,
            pending_names,
            dice,
            ..
        } = &mut *world;
        for naming in pending_names.drain(..) {
            if dice.one_in(2) {
                name(durable_names, naming);
            }
        }
        *names = durable_names.clone();
        for inode in files.values_mut() {
            inode.lose_power(dice);
        }
    }

    /// Puts a file there, on disk at once.
    pub fn put(&self, path: &Path, bytes: &[u8]) {
        let mut world = self.world();
        let inode = world.next;
        world.next += 1;
        let file = Inode {
            cache: bytes.to_vec(),
            durable: bytes.to_vec(),
            pending: Vec::new(),
        };
        world.files.insert(inode, file);
        world.names.insert(path.to_owned(), inode);
        world.durable_names.insert(path.to_owned(), inode);
    }

    /// Another program appends to a file.
    pub fn grow(&self, path: &Path, bytes: &[u8]) {
        let mut world = self.world();
        let inode = world.names[path];
        world
            .files
            .get_mut(&inode)
            .unwrap()
            .cache
            .extend_from_slice(bytes);
    }

    /// What programs read from a file.
    pub fn bytes(&self, path: &Path) -> Option<Vec<u8>> {
        let world = self.world();
        let inode = world.names.get(path)?;
        Some(world.files[inode].cache.clone())
    }

    /// All names.
    pub fn names(&self) -> Vec<PathBuf> {
        self.world().names.keys().cloned().collect()
    }
}

fn name(names: &mut BTreeMap<PathBuf, u64>, naming: Naming) {
    match naming {
        Naming::Add(path, inode) => drop(names.insert(path, inode)),
        Naming::Remove(path) => drop(names.remove(&path)),
        Naming::Rename(from, to, inode) => {
            names.remove(&from);
            names.insert(to, inode);
        }
    }
}

impl Inode {
    fn change(&mut self, change: Change) {
        apply(&mut self.cache, &change);
        self.pending.push(change);
    }

    fn lose_power(&mut self, dice: &mut Dice) {
        let in_order = dice.one_in(2);
        let kept = dice.below(self.pending.len() as u64 + 1);
        for (number, change) in std::mem::take(&mut self.pending).into_iter().enumerate() {
            let keep = if in_order {
                (number as u64) < kept
            } else {
                dice.one_in(2)
            };
            match change {
                Change::Cut(_) if !keep => {}
                Change::Cut(size) => apply(&mut self.durable, &Change::Cut(size)),
                Change::Write { at, bytes } => self.torn_write(at, &bytes, keep, dice),
            }
        }
        self.cache = self.durable.clone();
    }

    /// Each sector of a write gets there or not; the size may get there without the bytes.
    fn torn_write(&mut self, at: usize, bytes: &[u8], whole: bool, dice: &mut Dice) {
        if whole {
            let bytes = bytes.to_vec();
            return apply(&mut self.durable, &Change::Write { at, bytes });
        }
        let mut from = 0;
        while from < bytes.len() {
            let to = bytes.len().min(from + SECTOR - (at + from) % SECTOR);
            let most = (to - from) as u64;
            let part = match dice.below(4) {
                0 => most,
                1 => dice.below(most + 1),
                _ => 0,
            };
            if part > 0 {
                let bytes = bytes[from..from + part as usize].to_vec();
                apply(
                    &mut self.durable,
                    &Change::Write {
                        at: at + from,
                        bytes,
                    },
                );
            }
            from = to;
        }
        if dice.one_in(3) && self.durable.len() < at + bytes.len() {
            self.durable.resize(at + bytes.len(), 0);
        }
    }
}

fn apply(content: &mut Vec<u8>, change: &Change) {
    match change {
        Change::Cut(size) => content.resize(*size, 0),
        Change::Write { at, bytes } => {
            if content.len() < at + bytes.len() {
                content.resize(at + bytes.len(), 0);
            }
            content[*at..at + bytes.len()].copy_from_slice(bytes);
        }
    }
}

impl World {
    /// Counts a call, and says whether it fails.
    fn call(&mut self) -> io::Result<()> {
        self.calls += 1;
        if self.off_at.is_some_and(|at| self.calls >= at) {
            return Err(io::Error::other("the power is off"));
        }
        match self.fault {
            Some(fault) if self.calls == fault.at || fault.forever && self.calls > fault.at => {
                Err(io::Error::from_raw_os_error(fault.code))
            }
            _ => Ok(()),
        }
    }

    fn is_off(&self) -> bool {
        self.off_at.is_some_and(|at| self.calls >= at)
    }

    fn inode(&self, path: &Path) -> io::Result<u64> {
        let found = self.names.get(path).copied();
        found.ok_or_else(|| io::Error::from(io::ErrorKind::NotFound))
    }

    fn handle(&mut self, disk: &MemDisk, inode: u64, writes: bool) -> Box<dyn Handle> {
        self.next += 1;
        Box::new(MemHandle {
            disk: disk.clone(),
            inode,
            start: self.start,
            id: self.next,
            writes,
        })
    }

    fn found(&self, inode: u64) -> Found {
        Found {
            identity: (1, inode),
            size: self.files[&inode].cache.len() as u64,
            what: "a file",
        }
    }

    fn sync(&mut self, inode: u64) {
        let file = self.files.get_mut(&inode).unwrap();
        file.durable = file.cache.clone();
        file.pending.clear();
    }
}

impl Disk for MemDisk {
    fn open(&self, path: &Path, want: Want) -> io::Result<Box<dyn Handle>> {
        let mut world = self.world();
        world.call()?;
        let inode = world.inode(path)?;
        Ok(world.handle(self, inode, want == Want::Append))
    }

    fn create_new(&self, path: &Path, _rights: Rights) -> io::Result<Box<dyn Handle>> {
        let mut world = self.world();
        world.call()?;
        if world.names.contains_key(path) {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        let inode = world.next;
        world.next += 1;
        world.files.insert(inode, Inode::default());
        world.names.insert(path.to_owned(), inode);
        world
            .pending_names
            .push(Naming::Add(path.to_owned(), inode));
        Ok(world.handle(self, inode, true))
    }

    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        let mut world = self.world();
        world.call()?;
        if world.names.contains_key(to) {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        let inode = world.inode(from)?;
        let naming = Naming::Rename(from.to_owned(), to.to_owned(), inode);
        name(&mut world.names, naming.clone());
        world.pending_names.push(naming);
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        let mut world = self.world();
        world.call()?;
        world.inode(path)?;
        world.names.remove(path);
        world.pending_names.push(Naming::Remove(path.to_owned()));
        Ok(())
    }

    fn sync_folder(&self, _folder: &Path) -> io::Result<()> {
        let mut world = self.world();
        world.call()?;
        world.durable_names = world.names.clone();
        world.pending_names.clear();
        Ok(())
    }

    fn look(&self, path: &Path) -> io::Result<Found> {
        let mut world = self.world();
        world.call()?;
        let inode = world.inode(path)?;
        Ok(world.found(inode))
    }

    fn is_link(&self, _path: &Path) -> bool {
        false
    }

    fn list(&self, _folder: &Path) -> io::Result<Vec<OsString>> {
        let mut world = self.world();
        world.call()?;
        let names = world.names.keys();
        Ok(names
            .filter_map(|path| path.file_name())
            .map(OsString::from)
            .collect())
    }
}

impl MemHandle {
    /// The disk, if this handle's program still runs.
    fn world(&self) -> io::Result<MutexGuard<'_, World>> {
        let world = self.disk.world();
        if world.start == self.start {
            Ok(world)
        } else {
            Err(io::Error::other("this program has ended"))
        }
    }
}

impl Handle for MemHandle {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        assert!(
            self.writes,
            "appending to a file that was opened to be read"
        );
        let mut world = self.world()?;
        let outcome = world.call();
        if world.is_off() {
            return outcome;
        }
        let room = world.free.unwrap_or(u64::MAX).min(bytes.len() as u64);
        let part = match &outcome {
            Ok(()) => room,
            // A write that fails may have written any part of it.
            Err(_) => world.dice.below(room + 1),
        };
        let at = world.files[&self.inode].cache.len();
        let change = Change::Write {
            at,
            bytes: bytes[..part as usize].to_vec(),
        };
        world.files.get_mut(&self.inode).unwrap().change(change);
        world.free = world.free.map(|free| free - part);
        outcome?;
        if part < bytes.len() as u64 {
            return Err(io::ErrorKind::StorageFull.into());
        }
        Ok(())
    }

    fn sync_data(&mut self) -> io::Result<()> {
        let mut world = self.world()?;
        if let Err(error) = world.call() {
            if !world.is_off() && world.dice.one_in(2) {
                // What was to be written is forgotten, though programs still read it.
                world.files.get_mut(&self.inode).unwrap().pending.clear();
            }
            return Err(error);
        }
        world.sync(self.inode);
        Ok(())
    }

    fn sync_all(&mut self) -> io::Result<()> {
        self.sync_data()
    }

    fn cut(&mut self, size: u64) -> io::Result<()> {
        assert!(self.writes, "cutting a file that was opened to be read");
        let mut world = self.world()?;
        world.call()?;
        let file = world.files.get_mut(&self.inode).unwrap();
        let freed = (file.cache.len() as u64).saturating_sub(size);
        file.change(Change::Cut(size as usize));
        world.free = world.free.map(|free| free + freed);
        Ok(())
    }

    fn read(&mut self, from: u64, most: u64) -> io::Result<Vec<u8>> {
        let mut world = self.world()?;
        world.call()?;
        let bytes = &world.files[&self.inode].cache;
        let from = (from as usize).min(bytes.len());
        let to = bytes.len().min(from.saturating_add(most as usize));
        Ok(bytes[from..to].to_vec())
    }

    fn look(&self) -> io::Result<Found> {
        let mut world = self.world()?;
        world.call()?;
        Ok(world.found(self.inode))
    }

    fn try_lock(&self) -> io::Result<Locked> {
        let mut world = self.world()?;
        world.call()?;
        let (inode, id) = (self.inode, self.id);
        match world.locks.entry(inode).or_insert(id) {
            holder if *holder == id => Ok(Locked::Ours),
            _ => Ok(Locked::Busy),
        }
    }
}

impl Drop for MemHandle {
    fn drop(&mut self) {
        if let Ok(mut world) = self.disk.0.lock()
            && world.start == self.start
            && world.locks.get(&self.inode) == Some(&self.id)
        {
            world.locks.remove(&self.inode);
        }
    }
}
