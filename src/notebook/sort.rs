//! What kind of line it is: a hoof note, or something else that a notebook holds.

use serde::Serialize;

use super::errand::{COUNTED, ERRANDS, GOODS, MATERIALS};
use super::heads;
use super::roles::{Role, Roles};
use super::tag::Tag;

/// Why a line is no hoof note.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// `p. 12`
    Page,
    /// Money, and what is reckoned.
    Sum,
    /// A telephone number, a code.
    Number,
    /// Things counted: trims, bales, miles.
    Count,
    /// What has to be done, and whatever else there is no cow in.
    Memo,
    /// `~~118 LR wart~~`
    Struck,
}

impl Why {
    pub fn words(self) -> &'static str {
        match self {
            Self::Page => "page mark",
            Self::Sum => "sum",
            Self::Number => "number",
            Self::Count => "count",
            Self::Memo => "memo",
            Self::Struck => "struck out",
        }
    }
}

/// Sorts a line that is no heading. `text` is the whole line, `roles` are of the text after the tag.
pub(super) fn sort(text: &str, tag: Option<&Tag>, roles: &Roles, ditto_cow: bool) -> Option<Why> {
    let certain = roles.has(Role::Foot) && roles.has(Role::What);
    let rest = tag.map_or(text, |t| &text[t.at.end..]);
    let words: Vec<String> = rest
        .split(|c: char| !(c.is_alphanumeric() || c == '.' || c == '\'' || c == '-'))
        .map(|w| w.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase())
        .filter(|w| !w.is_empty())
        .collect();
    let first = words.first().map_or("", String::as_str);
    let list = |list: &[&str]| list.contains(&first);
    if !certain {
        // `201 + 202 + 207 nothing found`
        let cows = roles.has(Role::Clear) && !text.contains(['@', '£', '$', '€', '=']);
        if money(text) && !cows {
            return Some(Why::Sum);
        }
        if telephone(text) && !cows {
            return Some(Why::Number);
        }
    }
    let Some(tag) = tag else {
        if ditto_cow {
            return (!roles.record()).then_some(Why::Memo);
        }
        let cue = roles.toks.windows(2).any(|t| t[0].1 == Role::Cow && t[1].1 == Role::Number) && roles.record();
        // A line that says what was done, and for whom it was: no cow, no foot with a lesion.
        let named = certain || (roles.trade() && !list(ERRANDS));
        let talk = roles.count(Role::Unread) > 3 && roles.count(Role::Unread) * 2 > roles.toks.len();
        return if (named && !talk) || (cue && !list(ERRANDS)) {
            None
        } else if words.iter().all(|w| w.bytes().all(|b| b.is_ascii_digit())) {
            Some(Why::Number)
        } else {
            Some(Why::Memo)
        };
    };
    if tag.cue {
        return None;
    }
    if !certain && is_stock(&words, roles) {
        return Some(Why::Count);
    }
    let gone = words.get(1).is_some_and(|w| is_taken_off(w));
    // "231 left hind", "231 L …", "14 lame 3/5" are no counts.
    let counted = match first {
        "left" => !roles.trade(),
        "l" => !roles.record(),
        "lame" => roles.toks.len() == 1,
        _ => list(COUNTED) && !gone && !(list(GOODS) && roles.has(Role::Foot)),
    };
    if !certain && counted {
        return Some(Why::Count);
    }
    if roles.record() {
        return None;
    }
    if words.is_empty() {
        return (!tag.cue).then_some(Why::Number);
    }
    // Only words that say nothing of a foot: a remark about her, unless it reads like an errand.
    (list(ERRANDS) && first != "sold").then_some(Why::Memo)
}

/// What was brought, used and left: a number of things, with nothing said of a foot. `12 wood blks, 2 glue used`,
/// `8 blks left in van`, `9 dry, 4 hfrs`.
fn is_stock(words: &[String], roles: &Roles) -> bool {
    let is_number = |w: &String| w.bytes().all(|b| b.is_ascii_digit());
    let heads = |w: &String| heads::counts_heads(w);
    if words.first().is_some_and(heads) && words.windows(2).any(|w| is_number(&w[0]) && heads(&w[1])) {
        return !roles.has(Role::Foot);
    }
    let made_of = words.iter().take_while(|w| MATERIALS.contains(&w.as_str())).count();
    let Some((goods, rest)) = words[made_of..].split_first() else { return false };
    if !GOODS.contains(&goods.as_str()) || words.iter().any(|w| is_taken_off(w)) {
        return false;
    }
    // "Left" is a side, and "in" a claw, where nothing tells otherwise.
    let left =
        rest.first().is_some_and(|w| matches!(w.as_str(), "left" | "used" | "gone" | "spare" | "over" | "needed"));
    let away =
        rest.iter().any(|w| matches!(w.as_str(), "van" | "truck" | "trailer" | "shed" | "box" | "stock" | "order"));
    let feet =
        roles.count(Role::Foot) - usize::from(rest.first().is_some_and(|w| w == "left") && roles.has(Role::Foot));
    let said = [Role::What, Role::Clear, Role::Score].into_iter().any(|r| roles.has(r));
    !said && feet == 0 && (left || away || !roles.has(Role::Claw))
}

fn is_taken_off(word: &str) -> bool {
    matches!(word, "off" | "lost" | "removed" | "missing")
}

/// Money, or reckoning: `22 trims @ 15 = 330`, `12 x 4`, `£40`.
fn money(text: &str) -> bool {
    if text.contains(['@', '£', '$', '€', '=']) {
        return true;
    }
    // As much room before the sign as after it: `x2` and `z2+3` are other things.
    let chars: Vec<char> = text.to_lowercase().chars().collect();
    let digit = |c: Option<&char>| c.is_some_and(char::is_ascii_digit);
    let reckons = |i: usize| {
        let blank = |c: Option<&char>| c.is_some_and(|c| c.is_whitespace());
        matches!(chars[i], '+' | 'x' | '*' | '\u{d7}' | '\u{f7}')
            && (i > 0 && digit(chars.get(i - 1)) && digit(chars.get(i + 1))
                || i > 1
                    && blank(chars.get(i - 1))
                    && blank(chars.get(i + 1))
                    && digit(chars.get(i - 2))
                    && digit(chars.get(i + 2)))
    };
    let signs = (0..chars.len()).filter(|i| reckons(*i)).count();
    let letters = chars.iter().filter(|c| c.is_alphabetic() && **c != 'x').count();
    signs > 0 && letters < 3 || signs > 1
}

/// A number that nobody's cow has.
fn telephone(text: &str) -> bool {
    let lower = text.to_lowercase();
    let cue = ["tel", "phone", "ph", "cell", "mob", "fax", "call", "ring", "text", "mobile"];
    let mut cued = lower.split(|c: char| !c.is_alphabetic()).any(|w| cue.contains(&w));
    cued |= lower.contains('+');
    let mut groups: Vec<usize> = Vec::new();
    let mut first_zero = false;
    let mut gap = String::new();
    let mut best = (0, 0, false, vec![]);
    let mut flush = |groups: &mut Vec<usize>, zero: &mut bool| {
        let total: usize = groups.iter().sum();
        if total > best.0 {
            best = (total, groups.len(), *zero, groups.clone());
        }
        groups.clear();
        *zero = false;
    };
    let mut run = 0;
    for c in lower.chars().chain([';']) {
        if c.is_ascii_digit() {
            if run == 0 {
                let joined = !groups.is_empty() && gap.chars().all(|g| " -().+/".contains(g)) && gap.len() <= 3;
                if !joined {
                    flush(&mut groups, &mut first_zero);
                    first_zero = c == '0' || gap.ends_with('(') || gap.ends_with('+');
                }
                gap.clear();
            }
            run += 1;
        } else {
            if run > 0 {
                groups.push(run);
                run = 0;
            }
            gap.push(c);
        }
    }
    flush(&mut groups, &mut first_zero);
    let (total, n, zero, groups) = best;
    let usual = matches!(groups.as_slice(), [3, 4] | [3, 3, 4] | [1, 3, 3, 4] | [2, 4, 6]);
    match total {
        5..=6 => cued && n <= 2,
        7..=14 => zero || usual || cued || (n == 1 && total >= 7 && total != 15),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn telephones_and_money() {
        for text in [
            "Bob 555 0134",
            "07700 900123",
            "Jim (315) 555-0188",
            "ring Ted 01632 960001",
            "+44 1632 960961",
            "vet 5550134",
        ] {
            assert!(telephone(text), "{text}");
        }
        for text in ["1062 2250 NAD", "231 LR z4", "gate code 4471", "982000123456789 LH DD", "12/6/18"] {
            assert!(!telephone(text), "{text}");
        }
        for text in ["22 trims @ 15 = 330", "12 x 4", "22 + 14", "$40 Bob", "330 + 45 + 12 wraps"] {
            assert!(money(text), "{text}");
        }
        for text in ["231 LH x2 DD", "14 LH DD + RH DD", "41 RRO z2+3 x2"] {
            assert!(!money(text), "{text}");
        }
    }
}
