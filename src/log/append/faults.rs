//! Appending over a disk that fails, tears or loses power at every byte.

use std::io::{self, Cursor, Read, Seek, SeekFrom, Write};

use chrono::NaiveDate;

use super::*;
use crate::log::read;
use crate::log::record::{Stamp, StrikeLine, VisitLine};

/// How the disk fails once its room is used up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fault {
    /// It is full: nothing more can be written, but all else works.
    Full,
    /// The power goes: from there on nothing works, and what was written stays, half a line or not.
    Power,
    /// As `Power`, and what was not synced is gone.
    PowerUnsynced,
    /// All can be written, but it cannot be made to last.
    Sync,
}

/// A disk with room for so many bytes more.
struct Disk {
    bytes: Cursor<Vec<u8>>,
    synced: usize,
    fault: Fault,
    room: usize,
    dead: bool,
}

impl Disk {
    fn new(bytes: &[u8], fault: Fault, room: usize) -> Self {
        Self { bytes: Cursor::new(bytes.to_vec()), synced: bytes.len(), fault, room, dead: false }
    }

    /// What is found on it after everything was switched on again.
    fn found(self) -> Vec<u8> {
        let mut bytes = self.bytes.into_inner();
        if self.fault == Fault::PowerUnsynced && self.dead {
            bytes.truncate(self.synced);
        }
        bytes
    }

    fn alive(&self) -> io::Result<()> {
        if self.dead { Err(io::Error::other("no power")) } else { Ok(()) }
    }
}

impl Read for Disk {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        self.alive()?;
        // A few bytes at a time, as a file may.
        let few = into.len().min(37);
        self.bytes.read(&mut into[..few])
    }
}

impl Seek for Disk {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.alive()?;
        self.bytes.seek(to)
    }
}

impl Write for Disk {
    fn write(&mut self, from: &[u8]) -> io::Result<usize> {
        self.alive()?;
        // All of what fits, as a file does; the rest is asked for again, and then it fails.
        let fits = from.len().min(if self.fault == Fault::Sync { usize::MAX } else { self.room });
        if fits == 0 && !from.is_empty() {
            self.dead = matches!(self.fault, Fault::Power | Fault::PowerUnsynced);
            return Err(io::ErrorKind::StorageFull.into());
        }
        self.bytes.get_mut().extend_from_slice(&from[..fits]);
        self.room = self.room.saturating_sub(fits);
        Ok(fits)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.alive()
    }
}

impl Store for Disk {
    fn sync(&mut self) -> io::Result<()> {
        self.alive()?;
        if self.fault == Fault::Sync && self.room == 0 {
            return Err(io::Error::other("input/output error"));
        }
        self.synced = self.bytes.get_ref().len();
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.alive()?;
        self.bytes.get_mut().truncate(length as usize);
        Ok(())
    }
}

fn at() -> Stamp {
    Stamp::parse_from_rfc3339("2026-03-12T09:00:00-05:00").unwrap()
}

fn visit() -> Record {
    Record::Visit(VisitLine::new(Some("Juniper Flat"), NaiveDate::from_ymd_opt(2026, 3, 12).unwrap(), None, at()))
}

fn strike(why: &str) -> Record {
    Record::Strike(StrikeLine::new("7f401c57bcf4ab3c", why, at(), |_| false))
}

/// The records that a log holds, and how many of its lines are none.
fn lines(bytes: &[u8]) -> (Vec<Record>, usize) {
    let log = read::read("disk", bytes).unwrap();
    (log.records.into_iter().map(|r| r.1).collect(), log.problems.len())
}

/// A log of one visit, and what is appended to it in one go.
fn begun() -> (Vec<u8>, Vec<Record>) {
    let mut disk = Disk::new(b"", Fault::Full, usize::MAX);
    put(&mut disk, &mut Known::default(), &[visit()]).unwrap();
    (disk.found(), vec![strike("one"), strike("twö"), strike("three")])
}

/// Whatever byte it fails at: what was there is read, what was reported as saved is read, all that is read is
/// something that was written, and the next one who writes goes on behind it with an unbroken chain.
#[test]
fn a_fault_at_any_byte_loses_nothing_and_leaves_nothing_half_counted() {
    let (start, new) = begun();
    let all = {
        let mut disk = Disk::new(&start, Fault::Full, usize::MAX);
        put(&mut disk, &mut Known::default(), &new).unwrap();
        disk.found().len() - start.len()
    };
    for fault in [Fault::Full, Fault::Power, Fault::PowerUnsynced, Fault::Sync] {
        for room in 0..=all {
            let told = format!("{fault:?} after {room} of {all} bytes");
            let mut disk = Disk::new(&start, fault, room);
            let mut known = Known::default();
            let saved = put(&mut disk, &mut known, &new);
            // The disk is full also where exactly all went onto it, but then it is there.
            assert_eq!(saved.is_ok(), room == all && fault != Fault::Sync, "{told}");
            let found = disk.found();
            let (records, bad) = lines(&found);
            assert_eq!(records[0], visit(), "{told}");
            assert!(records[1..].iter().zip(&new).all(|(got, put)| got == put), "{told}");
            assert!(bad <= 1, "{told}: only the last line can be torn");
            if saved.is_ok() {
                assert_eq!(records[1..], new, "{told}");
            }
            if matches!(fault, Fault::Full | Fault::Sync) && saved.is_err() {
                assert_eq!(found, start, "{told}: what was half written is taken back");
            }
            go_on(&found, &new, &told);
        }
    }
}

/// Another writer brings everything in; the lines that were whole stay, and the torn one is left as it is.
fn go_on(found: &[u8], new: &[Record], told: &str) {
    let mut disk = Disk::new(found, Fault::Full, usize::MAX);
    let mut known = Known::default();
    put(&mut disk, &mut known, new).unwrap();
    let mended = disk.found();
    assert!(mended.starts_with(found), "{told}: nothing is rewritten");
    let (records, _) = lines(&mended);
    assert_eq!(records[1..], *new, "{told}: each once, and in order");
    let mut link = 0;
    for line in mended.split(|b| *b == b'\n').filter(|l| !l.is_empty()) {
        let parts = seal::Parts::of(line);
        assert!(parts.fits(), "{told}");
        assert!(parts.seal.is_none_or(|s| s.after == link), "{told}: the chain is whole");
        link = parts.link();
    }
    // The writer that mended it and one that comes anew go on alike.
    let mut again = Disk::new(&mended, Fault::Full, usize::MAX);
    put(&mut again, &mut Known::default(), &[strike("four")]).unwrap();
    put(&mut disk_of(&mended), &mut known, &[strike("four")]).unwrap();
    assert_eq!(lines(&again.found()).0.len(), new.len() + 2, "{told}");
}

fn disk_of(bytes: &[u8]) -> Disk {
    Disk::new(bytes, Fault::Full, usize::MAX)
}

/// A log that was cut off at any byte, as by a copy that was broken off.
#[test]
fn a_log_cut_off_anywhere_is_gone_on_with() {
    let (start, new) = begun();
    for length in 0..=start.len() {
        let mut disk = disk_of(&start[..length]);
        put(&mut disk, &mut Known::default(), &new).unwrap();
        let found = disk.found();
        assert!(found.starts_with(&start[..length]));
        let (records, _) = lines(&found);
        assert!(records.ends_with(&new), "cut to {length} bytes");
        // The line is whole without its end too.
        assert_eq!(records.len(), new.len() + usize::from(length + 1 >= start.len()), "cut to {length} bytes");
    }
}

#[test]
fn a_line_that_only_lacks_its_end_is_not_written_again() {
    let (start, _) = begun();
    let mut disk = disk_of(&start[..start.len() - 1]);
    assert_eq!(put(&mut disk, &mut Known::default(), &[visit(), strike("one")]).unwrap(), [false, true]);
    assert_eq!(lines(&disk.found()).0, [visit(), strike("one")]);
}
