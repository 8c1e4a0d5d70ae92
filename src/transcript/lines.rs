//! Lines of a transcript: a mark of byte order is passed over, and all three kinds of line ends count.

/// One line. Bytes that are no UTF-8 are shown as such, so that the words beside them can be told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Line {
    /// From 1.
    pub(super) number: usize,
    pub(super) text: String,
    pub(super) fault: Option<Fault>,
}

/// What makes a line unfit; offsets are bytes from the start of the input.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    NotUtf8 { offset: usize, byte: u8 },
    Control { offset: usize, shown: String },
}

pub(super) fn lines(bytes: &[u8]) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut at = if bytes.starts_with("\u{feff}".as_bytes()) { 3 } else { 0 };
    while at < bytes.len() {
        let length = bytes[at..].iter().position(|b| matches!(b, b'\n' | b'\r')).unwrap_or(bytes.len() - at);
        lines.push(line(lines.len() + 1, at, &bytes[at..at + length]));
        at += length;
        at += if bytes[at..].starts_with(b"\r\n") { 2 } else { 1 };
    }
    lines
}

fn line(number: usize, start: usize, bytes: &[u8]) -> Line {
    let text = String::from_utf8_lossy(bytes);
    let fault = match std::str::from_utf8(bytes) {
        Err(e) => Some(Fault::NotUtf8 { offset: start + e.valid_up_to(), byte: bytes[e.valid_up_to()] }),
        Ok(text) => text
            .char_indices()
            .find(|(_, c)| c.is_control() && *c != '\t')
            .map(|(at, c)| Fault::Control { offset: start + at, shown: c.escape_default().to_string() }),
    };
    let shown = |c: char| if c.is_control() && c != '\t' { c.escape_default().to_string() } else { c.to_string() };
    Line { number, text: text.chars().map(shown).collect(), fault }
}
