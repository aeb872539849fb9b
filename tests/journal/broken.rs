//! Six stores that are broken on purpose, each in one of the ways in which such stores are broken in
//! the world. The trials must catch every one of them, every time.

use endsmeet::journal::{Disk, Found, Handle, Locked, Rights, Want};
use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::sync::Arc;

/// In which way a store is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Never waits for the disk.
    NoSync,
    /// Never makes sure of the names in a folder.
    NoFolderSync,
    /// Names a new file whose bytes it has not made sure of.
    NoFileSync,
    /// Writes the whole file anew for each line.
    TruncateInPlace,
    /// Leaves a torn tail where it is.
    NoTailRepair,
    /// Takes any line that looks like one.
    NoChecksum,
}

pub const WAYS: [Way; 6] = [
    Way::NoSync,
    Way::NoFolderSync,
    Way::NoFileSync,
    Way::TruncateInPlace,
    Way::NoTailRepair,
    Way::NoChecksum,
];

#[derive(Debug)]
pub struct Broken {
    pub disk: Arc<dyn Disk>,
    pub way: Way,
}

#[derive(Debug)]
struct BrokenHandle {
    file: Box<dyn Handle>,
    way: Way,
}

impl Broken {
    fn wrap(&self, file: Box<dyn Handle>) -> Box<dyn Handle> {
        Box::new(BrokenHandle {
            file,
            way: self.way,
        })
    }
}

impl Disk for Broken {
    fn open(&self, path: &Path, want: Want) -> io::Result<Box<dyn Handle>> {
        Ok(self.wrap(self.disk.open(path, want)?))
    }

    fn create_new(&self, path: &Path, rights: Rights) -> io::Result<Box<dyn Handle>> {
        Ok(self.wrap(self.disk.create_new(path, rights)?))
    }

    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.disk.rename_new(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.disk.remove(path)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        match self.way {
            Way::NoSync | Way::NoFolderSync => Ok(()),
            _ => self.disk.sync_folder(folder),
        }
    }

    fn look(&self, path: &Path) -> io::Result<Found> {
        self.disk.look(path)
    }

    fn is_link(&self, path: &Path) -> bool {
        self.disk.is_link(path)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        self.disk.list(folder)
    }
}

impl Handle for BrokenHandle {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        if self.way != Way::TruncateInPlace {
            return self.file.append(bytes);
        }
        let mut all = self.file.read(0, u64::MAX)?;
        all.extend_from_slice(bytes);
        self.file.cut(0)?;
        self.file.append(&all)
    }

    fn sync_data(&mut self) -> io::Result<()> {
        match self.way {
            Way::NoSync => Ok(()),
            _ => self.file.sync_data(),
        }
    }

    fn sync_all(&mut self) -> io::Result<()> {
        match self.way {
            Way::NoSync | Way::NoFileSync => Ok(()),
            _ => self.file.sync_all(),
        }
    }

    fn cut(&mut self, size: u64) -> io::Result<()> {
        match self.way {
            Way::NoTailRepair => Ok(()),
            _ => self.file.cut(size),
        }
    }

    fn read(&mut self, from: u64, most: u64) -> io::Result<Vec<u8>> {
        let bytes = self.file.read(from, most)?;
        match self.way {
            Way::NoChecksum => Ok(sealed_anew(&bytes)),
            _ => Ok(bytes),
        }
    }

    fn look(&self) -> io::Result<Found> {
        self.file.look()
    }

    fn try_lock(&self) -> io::Result<Locked> {
        self.file.try_lock()
    }
}

/// Gives every line the checksum that fits it. The CRC is worked out here once more, from the
/// description of the format alone.
pub fn sealed_anew(bytes: &[u8]) -> Vec<u8> {
    let mut crc = 0_u32;
    let lines = bytes.split(|&b| b == b'\n').map(|line| {
        let mut line = line.to_vec();
        if line.len() > 16 {
            let mut covered = crc.to_be_bytes().to_vec();
            covered.extend_from_slice(&line[16..]);
            crc = crc_32(&covered);
            line[6..14].copy_from_slice(format!("{crc:08x}").as_bytes());
        }
        line
    });
    lines.collect::<Vec<_>>().join(&b'\n')
}

/// CRC-32 of IEEE 802.3, bit by bit: reflected polynomial EDB88320, start and end inverted.
fn crc_32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0_u32, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
            if crc & 1 == 1 {
                (crc >> 1) ^ 0xEDB8_8320
            } else {
                crc >> 1
            }
        })
    })
}
