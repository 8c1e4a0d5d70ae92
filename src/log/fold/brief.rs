//! An entry for figures: places, lesions, what was done and what is due, packed, without a word of what was said.

use std::fmt;
use std::marker::PhantomData;

use chrono::NaiveDate;
use serde::de::{SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use smallvec::SmallVec;

use crate::anatomy::{Claw, Foot};
use crate::disorder::{Course, Disorder, Stage};
use crate::entry::{Act, After, Due, DueWhat, Entry, Finding, Measure, Scale, Score};

/// A list that is mostly short: of a million entries none is a piece of memory of its own.
pub type Few<T> = SmallVec<[T; 2]>;

/// What counts of an entry.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Brief {
    pub found: Few<Found>,
    pub done: Few<Done>,
    pub promised: Few<Promised>,
    /// A bit a foot, by its place in [`Foot::ALL`].
    pub clear: u8,
    pub measured: bool,
    /// The highest score of how she walked in.
    pub locomotion: Option<u8>,
    pub mobility: Option<u8>,
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct Found {
    /// A bit a zone.
    #[serde(default, deserialize_with = "zones")]
    pub zones: u16,
    #[serde(default)]
    pub foot: Option<Foot>,
    #[serde(default)]
    pub claw: Option<Claw>,
    #[serde(default)]
    pub disorder: Option<Disorder>,
    #[serde(default)]
    pub course: Option<Course>,
    #[serde(default)]
    pub certain: Option<bool>,
    #[serde(default, rename = "severity")]
    _severity: PhantomOf<u8>,
    #[serde(default, rename = "stage")]
    _stage: PhantomOf<Stage>,
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct Done {
    pub what: Act,
    #[serde(default)]
    pub foot: Option<Foot>,
    #[serde(default)]
    pub claw: Option<Claw>,
    #[serde(default)]
    pub lost: bool,
    #[serde(default, rename = "material")]
    _material: Text,
    #[serde(default, rename = "agent")]
    _agent: Text,
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct Promised {
    pub what: DueWhat,
    #[serde(default)]
    pub foot: Option<Foot>,
    #[serde(default)]
    pub on: Option<NaiveDate>,
}

impl Brief {
    /// Of an entry of which all counts.
    pub fn of(entry: &Entry) -> Self {
        let mut brief = Self {
            found: entry.findings.iter().map(Found::of).collect(),
            done: entry
                .actions
                .iter()
                .map(|a| Done { what: a.what, foot: a.foot, claw: a.claw, lost: a.lost, _material: Text, _agent: Text })
                .collect(),
            promised: entry.due.iter().map(|d: &Due| Promised { what: d.what, foot: d.foot, on: d.on }).collect(),
            clear: entry.clear.iter().fold(0, |bits, f| bits | bit(*f)),
            measured: !entry.measures.is_empty(),
            ..Self::default()
        };
        entry.scores.iter().for_each(|s| brief.score(s));
        brief
    }

    fn score(&mut self, s: &Score) {
        let highest = match s.scale {
            Scale::Locomotion => &mut self.locomotion,
            Scale::Mobility => &mut self.mobility,
        };
        if s.when != Some(After::After) {
            *highest = (*highest).max(u8::try_from(s.value).ok());
        }
    }
}

impl Found {
    fn of(f: &Finding) -> Self {
        Self {
            zones: f.zones.iter().fold(0, |bits, z| bits | zone(*z)),
            foot: f.foot,
            claw: f.claw,
            disorder: f.disorder,
            course: f.course,
            certain: f.certain,
            _severity: PhantomOf(PhantomData),
            _stage: PhantomOf(PhantomData),
        }
    }

    pub fn finding(&self) -> Finding {
        Finding {
            foot: self.foot,
            claw: self.claw,
            zones: (0..16).filter(|z| self.zones & zone(*z) != 0).collect(),
            disorder: self.disorder,
            course: self.course,
            certain: self.certain,
            ..Finding::default()
        }
    }
}

/// The bit of a foot.
pub fn bit(foot: Foot) -> u8 {
    1 << foot as u8
}

/// A zone is 0 to 12; what is none has no bit.
fn zone(zone: u8) -> u16 {
    1u16.checked_shl(zone.into()).unwrap_or(0)
}

/// The lists of an entry's line that are folded while they are read.
pub(super) fn clear<'de, D: Deserializer<'de>>(from: D) -> Result<u8, D::Error> {
    fold(from, |bits, foot: Foot| bits | bit(foot))
}

pub(super) fn measured<'de, D: Deserializer<'de>>(from: D) -> Result<bool, D::Error> {
    fold(from, |_, _: Measure| true)
}

/// The highest scores of how she walked in: locomotion and mobility.
pub(super) fn scores<'de, D: Deserializer<'de>>(from: D) -> Result<(Option<u8>, Option<u8>), D::Error> {
    let brief = fold(from, |mut brief: Brief, score: Score| {
        brief.score(&score);
        brief
    })?;
    Ok((brief.locomotion, brief.mobility))
}

fn zones<'de, D: Deserializer<'de>>(from: D) -> Result<u16, D::Error> {
    fold(from, |bits, z: u8| bits | zone(z))
}

/// Reads a list without keeping it.
fn fold<'de, D, T, A>(from: D, with: impl FnMut(A, T) -> A) -> Result<A, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
    A: Default,
{
    struct Fold<F, T>(F, PhantomData<T>);
    impl<'de, T: Deserialize<'de>, A: Default, F: FnMut(A, T) -> A> Visitor<'de> for Fold<F, (T, A)> {
        type Value = A;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            f.write_str("a list")
        }

        fn visit_seq<S: SeqAccess<'de>>(mut self, mut list: S) -> Result<A, S::Error> {
            let mut all = A::default();
            while let Some(one) = list.next_element()? {
                all = (self.0)(all, one);
            }
            Ok(all)
        }
    }
    from.deserialize_seq(Fold(with, PhantomData::<(T, A)>))
}

/// A text or nothing, which is passed over; anything else is an error, as it is elsewhere.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Text;

impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Pass;
        impl Visitor<'_> for Pass {
            type Value = Text;

            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("a string")
            }

            fn visit_str<E>(self, _: &str) -> Result<Text, E> {
                Ok(Text)
            }

            fn visit_unit<E>(self) -> Result<Text, E> {
                Ok(Text)
            }
        }
        from.deserialize_any(Pass)
    }
}

/// A value that has to be of its type, and is passed over.
#[derive(Clone, Copy, Debug, PartialEq)]
struct PhantomOf<T>(PhantomData<T>);

impl<T> Default for PhantomOf<T> {
    fn default() -> Self {
        Self(PhantomData)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for PhantomOf<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Option::<T>::deserialize(from).map(|_| Self(PhantomData))
    }
}
