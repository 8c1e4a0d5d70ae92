//! Sorted lists as the browser's core carries them: each entry by how much of its front the one before has.

/// Entries put together from their fronts: `AableErCout` is able, abler, about. A capital tells how many letters are those
/// of the entry before (`A` for none); no entry has a capital of its own (`vocab/sound/pack.rs`).
pub(crate) fn from_fronts(fronts: &str) -> Vec<Box<str>> {
    let mut entries = Vec::new();
    let mut entry = String::new();
    for c in fronts.chars() {
        if c.is_ascii_uppercase() {
            entries.extend((!entry.is_empty()).then(|| entry.as_str().into()));
            entry.truncate(usize::from(c as u8 - b'A'));
        } else {
            entry.push(c);
        }
    }
    entries.push(entry.into());
    entries
}

/// A vocabulary file with its lists of forms whole again: `say="AableEr"` is `say=["able","abler"]`.
pub(crate) fn with_whole_lists(file: &str) -> String {
    let mut out = String::with_capacity(2 * file.len());
    for line in file.lines() {
        let list = line.split_once("=\"").and_then(|(key, fronts)| Some((key, fronts.strip_suffix('"')?)));
        if let Some((key, fronts)) = list {
            out.push_str(key);
            for (i, form) in from_fronts(fronts).iter().enumerate() {
                out.push_str(if i == 0 { "=[\"" } else { "\",\"" });
                out.push_str(form);
            }
            out.push_str("\"]");
        } else {
            out.push_str(line);
        }
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_come_back_from_their_fronts() {
        assert_eq!(from_fronts("AableErCout"), ["able".into(), "abler".into(), "about".into()]);
    }

    #[test]
    fn lists_come_back_and_other_lines_stay() {
        let packed = "[wrap.any]\nsay=\"AwrapEped\"\nwrite=[\"Wr\"]\nafter=[\"foot\"]\n";
        let whole = "[wrap.any]\nsay=[\"wrap\",\"wrapped\"]\nwrite=[\"Wr\"]\nafter=[\"foot\"]\n";
        assert_eq!(with_whole_lists(packed), whole);
    }
}
