//! Paths of fields: `cow`, `clear[1]`, `findings[0].claw`.

use std::fmt;
use std::str::FromStr;

/// A field of an entry, a thing in one of its lists, or a field of such a thing.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Path {
    /// `cow`, `findings`, `actions` …
    pub name: String,
    /// Counted from 0, as in the entry's own line.
    pub index: Option<usize>,
    /// `claw`, `zones` …
    pub field: Option<String>,
}

impl Path {
    /// Whether an answer to `self` answers a question about `other` too: the same field, or the thing it is of.
    pub fn covers(&self, other: &Self) -> bool {
        self.name == other.name && self.index == other.index && (self.field.is_none() || self.field == other.field)
    }

    /// The thing in the list that the field is of.
    #[must_use]
    pub fn thing(&self) -> Option<Self> {
        self.index.map(|_| Self { field: None, ..self.clone() })
    }
}

impl FromStr for Path {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let bad = || format!("`{text}` is no field of an entry");
        let (front, field) = match text.split_once('.') {
            Some((front, field)) if !field.is_empty() && front.ends_with(']') => (front, Some(field.to_owned())),
            Some(_) => return Err(bad()),
            None => (text, None),
        };
        let (name, index) = match front.split_once('[') {
            Some((name, rest)) => {
                let digits = rest.strip_suffix(']').ok_or_else(bad)?;
                (name, Some(digits.parse().map_err(|_| bad())?))
            }
            None => (front, None),
        };
        if name.is_empty() || !name.bytes().all(|b| b.is_ascii_lowercase() || b == b'_') {
            return Err(bad());
        }
        Ok(Self { name: name.to_owned(), index, field })
    }
}

impl fmt::Display for Path {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.name)?;
        if let Some(i) = self.index {
            write!(f, "[{i}]")?;
        }
        if let Some(field) = &self.field {
            write!(f, ".{field}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn path(text: &str) -> Path {
        text.parse().unwrap()
    }

    #[test]
    fn paths_come_back_as_they_were_written() {
        for text in ["cow", "clear[1]", "findings[12].claw", "said"] {
            assert_eq!(path(text).to_string(), text);
        }
        for text in ["", "findings[", "findings[x]", "findings[0]claw", "a.b", "findings[0].", "[0]"] {
            assert!(text.parse::<Path>().is_err(), "{text}");
        }
    }

    #[test]
    fn a_thing_covers_its_fields_and_no_other_thing() {
        assert!(path("findings[0]").covers(&path("findings[0].claw")));
        assert!(!path("findings").covers(&path("findings[0].claw")));
        assert!(!path("findings[0]").covers(&path("findings[1].claw")));
        assert!(!path("findings[0].claw").covers(&path("findings[0]")));
        assert!(!path("findings[0].claw").covers(&path("findings[0].zones")));
    }
}
