//! What the targets of the dressing's file share: a disk of one file, checksums put right, and a load
//! that then looks at everything that a screen would show.

use endsmeet::journal::kept::Keeper;
use endsmeet::journal::keep::Keep;
use endsmeet::journal::{Access, Disk, Found, Handle, Locked, Rights, Want};
use endsmeet::method::Method;
use endsmeet::words::{page, trail};
use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::sync::{Arc, OnceLock};

static METHOD: OnceLock<Method> = OnceLock::new();

/// A disk that holds one file and can only be read.
#[derive(Debug)]
struct OneFile(Arc<[u8]>);

#[derive(Debug)]
struct OneHandle(Arc<[u8]>);

fn refused<T>() -> io::Result<T> {
    Err(io::ErrorKind::ReadOnlyFilesystem.into())
}

fn found(bytes: &[u8]) -> Found {
    Found {
        identity: (1, 1),
        size: bytes.len() as u64,
        what: "a file",
    }
}

impl Disk for OneFile {
    fn open(&self, _: &Path, _: Want) -> io::Result<Box<dyn Handle>> {
        Ok(Box::new(OneHandle(Arc::clone(&self.0))))
    }
    fn create_new(&self, _: &Path, _: Rights) -> io::Result<Box<dyn Handle>> {
        refused()
    }
    fn rename_new(&self, _: &Path, _: &Path) -> io::Result<()> {
        refused()
    }
    fn remove(&self, _: &Path) -> io::Result<()> {
        refused()
    }
    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        refused()
    }
    fn look(&self, _: &Path) -> io::Result<Found> {
        Ok(found(&self.0))
    }
    fn is_link(&self, _: &Path) -> bool {
        false
    }
    fn list(&self, _: &Path) -> io::Result<Vec<OsString>> {
        Ok(vec!["one.jsonl".into()])
    }
}

impl Handle for OneHandle {
    fn append(&mut self, _: &[u8]) -> io::Result<()> {
        panic!("a file that is looked at is written to");
    }
    fn sync_data(&mut self) -> io::Result<()> {
        refused()
    }
    fn sync_all(&mut self) -> io::Result<()> {
        refused()
    }
    fn cut(&mut self, _: u64) -> io::Result<()> {
        panic!("a file that is looked at is cut");
    }
    fn read(&mut self, from: u64, most: u64) -> io::Result<Vec<u8>> {
        let from = usize::try_from(from).unwrap_or(usize::MAX).min(self.0.len());
        let most = usize::try_from(most).unwrap_or(usize::MAX);
        let to = from.saturating_add(most).min(self.0.len());
        Ok(self.0[from..to].to_vec())
    }
    fn look(&self) -> io::Result<Found> {
        Ok(found(&self.0))
    }
    fn try_lock(&self) -> io::Result<Locked> {
        Ok(Locked::Ours)
    }
}

/// Loads the bytes as a dressing and looks at all that is there to be shown.
pub fn load_and_look(bytes: &[u8]) {
    let disk: Arc<dyn Disk> = Arc::new(OneFile(bytes.into()));
    let path = Path::new("one.jsonl");
    let loaded = match Keeper::load(&disk, path, Access::ReadOnly) {
        Ok(loaded) => loaded,
        Err(error) => {
            assert!(error.to_string().len() > 10);
            return;
        }
    };
    let method = METHOD.get_or_init(Method::embedded);
    let dressing = loaded.keeper.dressing();
    dressing.check().expect("the invariants hold");
    let page = page::page(&dressing.view(), dressing.plan(), method);
    drop(page);
    for entry in loaded.keeper.entries().iter().rev().take(4) {
        assert!(!trail::entry(entry, method).is_empty());
    }
}

/// Gives every line the checksum that fits it, by the description of the format alone.
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

/// CRC-32 of IEEE 802.3: reflected polynomial EDB88320, start and end inverted.
fn crc_32(bytes: &[u8]) -> u32 {
    static TABLE: OnceLock<[u32; 256]> = OnceLock::new();
    let table = TABLE.get_or_init(|| {
        std::array::from_fn(|n| {
            (0..8).fold(u32::try_from(n).unwrap_or(0), |crc, _| {
                if crc & 1 == 1 { (crc >> 1) ^ 0xEDB8_8320 } else { crc >> 1 }
            })
        })
    });
    !bytes.iter().fold(!0_u32, |crc, byte| {
        (crc >> 8) ^ table[((crc ^ u32::from(*byte)) & 0xFF) as usize]
    })
}
