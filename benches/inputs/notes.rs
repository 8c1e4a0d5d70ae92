//! Notes as they are dictated, each with the entry that was meant; and as a recogniser may hear them.

use chrono::{Days, NaiveDate};
use serde_json::{Value, json};

use super::dice::Dice;

/// The day that all of it is said on.
pub(crate) const DAY: NaiveDate = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();

/// A note, and the entry that was meant: its fields as the log has them, without `said` and `assumed`.
pub(crate) struct Note {
    pub(crate) said: String,
    pub(crate) meant: Value,
}

/// Makes notes.
pub(crate) struct Notes(Dice);

const UNITS: [&str; 20] = [
    "oh",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
const FEET: [(&str, &str); 6] = [
    ("left hind", "LH"),
    ("right hind", "RH"),
    ("left rear", "LH"),
    ("right rear", "RH"),
    ("left front", "LF"),
    ("right front", "RF"),
];
const ON_A_CLAW: [(&str, &str, u8); 5] = [
    ("sole ulcer zone four", "SU", 4),
    ("white line disease zone three", "WL", 3),
    ("toe ulcer zone five", "TU", 5),
    ("sole hemorrhage zone four", "SH", 4),
    ("white line abscess zone two", "WLA", 2),
];

/// What was said, and what recognisers make of such words (sounds alike; from memory).
const MISHEARD: [(&str, &str); 11] = [
    ("outer", "out her"),
    ("block inner", "block enter"),
    ("sole ulcer", "soul ulcer"),
    ("toe ulcer", "toe all sir"),
    ("white line disease", "wide line disease"),
    ("white line abscess", "white lion abscess"),
    ("both hinds", "both hines"),
    ("digital dermatitis", "digital dramatitis"),
    ("wrap", "rap"),
    ("all four clean", "all for clean"),
    ("no lesions", "no leisions"),
];

impl Notes {
    pub(crate) fn new(seed: u64) -> Self {
        Self(Dice::new(seed))
    }

    /// In the trade's own words, word for word.
    pub(crate) fn clean(&mut self) -> Note {
        let number = 110 + self.0.below(890);
        let cow = format!("cow {}", spoken(number));
        let number = number.to_string();
        match self.0.below(10) {
            0..=4 => self.on_a_claw(&cow, &number),
            5..=6 => self.on_the_skin(&cow, &number),
            7..=8 => Note {
                said: format!("{cow}, all four clean"),
                meant: json!({"cow": number, "clear": ["LF", "RF", "LH", "RH"]}),
            },
            _ => Note {
                said: format!("{cow}, trimmed all four, no lesions"),
                meant: json!({"cow": number, "actions": [{"what": "trim"}], "clear": ["LF", "RF", "LH", "RH"]}),
            },
        }
    }

    fn on_a_claw(&mut self, cow: &str, number: &str) -> Note {
        let (foot, code) = self.0.one_of(&FEET);
        let (claw, other) = self.0.one_of(&[("outer", "inner"), ("inner", "outer")]);
        let (lesion, disorder, zone) = self.0.one_of(&ON_A_CLAW);
        let mut said = format!("{cow}, {foot} {claw}, {lesion}");
        let mut meant = json!({
            "cow": number,
            "findings": [{"foot": code, "claw": claw, "zones": [zone], "disorder": disorder}],
        });
        let mut actions = Vec::new();
        if self.0.below(3) > 0 {
            said += &format!(", block {other}");
            actions.push(json!({"what": "block", "foot": code, "claw": other}));
        }
        if self.0.below(3) == 0 {
            said += ", wrap";
            actions.push(json!({"what": "wrap", "foot": code}));
        }
        if !actions.is_empty() {
            meant["actions"] = actions.into();
        }
        if self.0.below(4) == 0 {
            let weeks = 2 + self.0.below(5);
            said += &format!(", recheck in {} weeks", UNITS[weeks]);
            let on = DAY + Days::new(7 * weeks as u64);
            meant["due"] = json!([{"what": "recheck", "on": on.to_string(), "foot": code}]);
        }
        Note { said, meant }
    }

    fn on_the_skin(&mut self, cow: &str, number: &str) -> Note {
        let mut said = format!("{cow}, both hinds digital dermatitis");
        let mut meant = json!({
            "cow": number,
            "findings": [{"foot": "LH", "disorder": "DD"}, {"foot": "RH", "disorder": "DD"}],
        });
        if self.0.below(2) == 0 {
            said += ", wrap both";
            meant["actions"] = json!([{"what": "wrap", "foot": "LH"}, {"what": "wrap", "foot": "RH"}]);
        }
        Note { said, meant }
    }

    /// The same, with at least one thing misheard.
    pub(crate) fn heard(&mut self) -> Note {
        loop {
            let Note { said, meant } = self.clean();
            let mut heard = said.clone();
            for (right, wrong) in MISHEARD {
                if self.0.below(3) > 0 {
                    heard = heard.replace(right, wrong);
                }
            }
            if heard != said {
                // No recogniser writes commas where nobody paused.
                return Note { said: heard.replace(',', ""), meant };
            }
        }
    }

    /// One note of at least so many words, cow after cow.
    pub(crate) fn long(&mut self, words: usize) -> String {
        let mut all: Vec<String> = Vec::new();
        let mut count = 0;
        while count < words {
            let said = self.clean().said;
            count += said.split(' ').count();
            all.push(said);
        }
        all.join(". ")
    }
}

/// Three digits as they are said of a cow: `four twelve`, `nine oh three`.
fn spoken(number: usize) -> String {
    let (front, back) = (UNITS[number / 100], number % 100);
    match (back / 10, back % 10) {
        (0, 0) => format!("{front} hundred"),
        (0, unit) => format!("{front} oh {}", UNITS[unit]),
        (1, _) => format!("{front} {}", UNITS[back]),
        (ten, 0) => format!("{front} {}", TENS[ten]),
        (ten, unit) => format!("{front} {} {}", TENS[ten], UNITS[unit]),
    }
}
