//! The trade's words: what forms there are and what each stands for.

pub(crate) mod depends;
mod device;
mod file;
mod kind;
mod meaning;
pub(crate) mod sound;

use rustc_hash::FxHashMap;

pub use device::Device;
pub use file::{FileError, RawForm, Style};
pub use kind::Kind;
pub use meaning::{Atom, Meaning, MonthPart, Part, Period, Relative, Sign, Unit, Vague};

use crate::words;

/// A file of `vocab/`; in the browser without what is said to people only, and its lists by their fronts.
#[cfg(not(target_family = "wasm"))]
macro_rules! built_in {
    ($name:literal) => {
        include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/vocab/", $name))
    };
}
#[cfg(target_family = "wasm")]
macro_rules! built_in {
    ($name:literal) => {
        include_str!(concat!(env!("OUT_DIR"), "/", $name))
    };
}
pub(crate) use built_in;

/// The files that are built in, by name.
pub const BUILT_IN: &[(&str, &str)] = &[
    ("vocab/places.toml", built_in!("places.toml")),
    ("vocab/disorders.toml", built_in!("disorders.toml")),
    ("vocab/actions.toml", built_in!("actions.toml")),
    ("vocab/measures.toml", built_in!("measures.toml")),
    ("vocab/times.toml", built_in!("times.toml")),
    ("vocab/numbers.toml", built_in!("numbers.toml")),
    ("vocab/cues.toml", built_in!("cues.toml")),
    ("vocab/fillers.toml", built_in!("fillers.toml")),
];

/// One way to say or write a term.
#[derive(Clone, Debug)]
pub struct Form {
    pub text: String,
    pub meaning: Meaning,
    pub kind: Kind,
    pub style: Style,
    /// An everyday word that notes rarely hold (`[loose.any]`): it often stands for a trade word misheard.
    pub dear: bool,
    /// How people begin to talk (`[lead.any]`): a bare number after it may be a cow.
    pub lead: bool,
    /// Never stands for a term (`[everyday.any]`, `[talk.any]`).
    pub everyday: bool,
    /// Said in people's talk (`[talk.any]`).
    pub talk: bool,
    /// Shorthand that counts only in capitals, as the file has it.
    pub capitals: bool,
    /// Set bits are the kinds it must follow; 0 is "any".
    pub after: u64,
    /// `kind.name`, as the file has it.
    pub term: String,
    pub file: String,
}

impl Form {
    /// Whether it counts only in some surroundings, beyond what it comes `after`.
    pub(crate) fn depends(&self) -> bool {
        depends::depends(&self.text, self.meaning)
    }
}

/// The vocabulary: an index from runs of words to the forms they spell.
#[derive(Clone, Debug, Default)]
pub struct Vocabulary {
    words: FxHashMap<String, u32>,
    /// For each word, the node to which it leads from the root; most words begin some form.
    first: Vec<u32>,
    nodes: Vec<Node>,
    forms: Vec<Form>,
    names: Vec<String>,
}

/// A form that ends at a place in the index, with what every look at a note asks of it: the forms themselves are far
/// apart in memory.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ending {
    /// An index into [`Vocabulary::forms`].
    pub(crate) form: u32,
    pub(crate) meaning: Meaning,
    pub(crate) kind: Kind,
    pub(crate) style: Style,
    /// Whether it counts is told by what stands around it, and not by `after` alone.
    pub(crate) depends: bool,
    pub(crate) capitals: bool,
    pub(crate) after: u64,
}

/// A place in the index: some words have been spelt.
#[derive(Clone, Debug, Default)]
struct Node {
    endings: Vec<Ending>,
    /// Words that go on, and to where: few, so that looking through them is the fastest.
    next: Vec<(u32, u32)>,
    /// All forms that end here are written ones.
    shorthand: bool,
}

/// Where every form begins.
const ROOT: u32 = 0;

/// No node.
const NOWHERE: u32 = u32::MAX;

impl Form {
    /// Whether it is one of ours, and not of a user's own file.
    pub fn is_built_in(&self) -> bool {
        BUILT_IN.iter().any(|(file, _)| *file == self.file)
    }
}

impl Vocabulary {
    /// The built-in vocabulary.
    ///
    /// # Panics
    /// Never: a test reads the built-in files.
    pub fn built_in() -> Self {
        Self::layered(&[]).expect("the built-in vocabulary is checked by a test")
    }

    /// The built-in vocabulary with files of the user's laid over it (name, text): a form of theirs
    /// replaces the same form of ours.
    ///
    /// # Errors
    /// Names file and line of bad TOML, unknown kinds or names, empty forms, and forms with two meanings.
    pub fn layered(over: &[(String, String)]) -> Result<Self, FileError> {
        let mut own = Self { nodes: vec![Node::default()], ..Self::default() };
        for (file, text) in BUILT_IN {
            #[cfg(target_family = "wasm")]
            let text = &words::fronts::with_whole_lists(text);
            own.lay(file, text)?;
        }
        for (file, text) in over {
            own.lay(file, text)?;
        }
        Ok(own)
    }

    fn lay(&mut self, file: &str, text: &str) -> Result<(), FileError> {
        for raw in file::read(file, text)? {
            let at = raw.at;
            self.add(file, raw).map_err(|what| FileError {
                file: file.to_owned(),
                line: file::line_of(text, at),
                what,
            })?;
        }
        Ok(())
    }

    /// Adds a form, or tells what is wrong with it.
    fn add(&mut self, file: &str, raw: RawForm) -> Result<(), String> {
        let names = &mut self.names;
        let mut intern = |name: &str| {
            let at = names.iter().position(|n| n == name).unwrap_or_else(|| {
                names.push(name.to_owned());
                names.len() - 1
            });
            at as u16
        };
        let Some(meaning) = Meaning::named(&raw.kind, &raw.name, &mut intern) else {
            return Err(format!("`[{}.{}]` is no kind of word this program knows", raw.kind, raw.name));
        };
        let mut after = 0;
        for kind in &raw.after {
            let Some(bits) = follows(kind) else {
                return Err(format!(
                    "`after` knows foot, side, end, claw, block, disorder, zone, number, severity, clear, trim and start; not `{kind}`"
                ));
            };
            after |= bits;
        }
        let spelt: Vec<_> = words::cut(&raw.text, |_| true).into_iter().map(|w| w.text).collect();
        if spelt.is_empty() {
            return Err(format!("`{}` has no letters, digits or known signs", raw.text));
        }
        let mut node = 0;
        for word in &spelt {
            let id = self.intern(word);
            node = self.step(node, id).unwrap_or_else(|| {
                let new = self.nodes.len() as u32;
                self.nodes.push(Node::default());
                match node {
                    ROOT => self.first[id as usize] = new,
                    node => self.nodes[node as usize].next.push((id, new)),
                }
                new
            });
        }
        let capitals = raw.style == Style::Written
            && raw.text.chars().any(char::is_uppercase)
            && !raw.text.chars().any(char::is_lowercase);
        let form = Form {
            text: spelt.join(" "),
            meaning,
            kind: meaning.kind(),
            style: raw.style,
            dear: raw.kind.starts_with("loose"),
            lead: raw.kind.ends_with("lead"),
            everyday: raw.kind == "everyday" || raw.kind == "talk",
            talk: raw.kind == "talk",
            capitals,
            after,
            term: format!("{}.{}", raw.kind, raw.name),
            file: file.to_owned(),
        };
        let here = &mut self.nodes[node as usize].endings;
        let ending = Ending {
            form: self.forms.len() as u32,
            meaning,
            kind: form.kind,
            style: form.style,
            depends: capitals || depends::depends(&form.text, meaning),
            capitals,
            after,
        };
        if let Some(at) = here.iter().position(|e| e.after == after && e.capitals == capitals) {
            let old = &self.forms[here[at].form as usize];
            if old.file == file || BUILT_IN.iter().any(|(f, _)| *f == file) {
                if old.meaning == meaning {
                    return Err(format!("`{}` stands twice in [{}]", raw.text, old.term));
                }
                return Err(format!(
                    "`{}` cannot be both [{}] and [{}]; take one out, or say what it comes `after`",
                    raw.text, old.term, form.term
                ));
            }
            here[at] = ending;
        } else {
            here.push(ending);
        }
        let shorthand = here.iter().all(|e| e.style == Style::Written);
        self.nodes[node as usize].shorthand = shorthand;
        self.forms.push(form);
        Ok(())
    }

    fn intern(&mut self, word: &str) -> u32 {
        if let Some(id) = self.words.get(word) {
            return *id;
        }
        let id = self.words.len() as u32;
        self.words.insert(word.to_owned(), id);
        self.first.push(NOWHERE);
        id
    }

    pub fn forms(&self) -> &[Form] {
        &self.forms
    }

    /// The name of an agent or a material.
    pub fn name(&self, at: u16) -> &str {
        &self.names[at as usize]
    }

    /// Whether the word stands in any form.
    pub fn knows(&self, word: &str) -> bool {
        self.words.contains_key(word)
    }

    /// All words of all forms.
    pub(crate) fn words(&self) -> impl Iterator<Item = &str> {
        self.words.keys().map(String::as_str)
    }

    /// Whether the word by itself is a form.
    pub fn is_form(&self, word: &str) -> bool {
        let node = self.word(word).and_then(|w| self.step(0, w));
        node.is_some_and(|node| !self.spelt(node).is_empty())
    }

    /// The id of a word that stands in some form.
    pub(crate) fn word(&self, text: &str) -> Option<u32> {
        self.words.get(text).copied()
    }

    /// One step in the index, from node 0.
    pub(crate) fn step(&self, node: u32, word: u32) -> Option<u32> {
        if node == ROOT {
            return Some(self.first[word as usize]).filter(|n| *n != NOWHERE);
        }
        self.nodes[node as usize].next.iter().find(|(w, _)| *w == word).map(|(_, to)| *to)
    }

    /// Whether forms end at `node`, and all of them are written ones.
    pub(crate) fn is_shorthand(&self, node: u32) -> bool {
        self.nodes[node as usize].shorthand
    }

    /// The forms spelt when the index has come to `node`.
    pub(crate) fn spelt(&self, node: u32) -> &[Ending] {
        &self.nodes[node as usize].endings
    }
}

fn follows(kind: &str) -> Option<u64> {
    let bits = |kinds: &[Kind]| kinds.iter().fold(0, |m, k| m | 1 << *k as u8);
    Some(match kind {
        "foot" => bits(&[Kind::Foot, Kind::Group, Kind::Side]),
        "side" => bits(&[Kind::Side]),
        "end" => bits(&[Kind::End]),
        "claw" => bits(&[Kind::Claw, Kind::ClawNoun]),
        "number" => bits(&[Kind::Number, Kind::SizeNumber, Kind::GradeNumber, Kind::LooseNumber]),
        "disorder" => bits(&[Kind::Disorder, Kind::Vague]),
        "zone" => bits(&[Kind::ZoneNumber]),
        "block" => bits(&[Kind::Block, Kind::Material]),
        "severity" => bits(&[Kind::Severity, Kind::GradeNumber]),
        "clear" => bits(&[Kind::Clear]),
        "course" => bits(&[Kind::Course]),
        "trim" => bits(&[Kind::Trim]),
        "work" => bits(&[Kind::Work, Kind::Wrap]),
        "start" => bits(&[Kind::Start]),
        _ => return None,
    })
}
