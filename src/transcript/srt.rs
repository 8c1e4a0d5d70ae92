//! SRT: a number, times with a comma, words; an empty line between.

use super::cues::{self, Read};
use super::lines::Line;

pub(super) fn cues(lines: &[Line]) -> Vec<Read> {
    let mut out = Vec::new();
    for block in cues::blocks(lines) {
        cues::block(block, &mut out);
    }
    out
}
