//! Words that were not understood, and numbers that belong to nothing: nothing said is lost.

use serde_json::{Value, json};

use super::Look;
use crate::disorder::{Disorder, Stage};
use crate::entry::{Act, Action};
use crate::flag::{Flag, FlagKind};
use crate::meaning::LooseNumber;
use crate::words::{self, Span};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    // What is kept as a remark is kept whole.
    let kept = |span: &Span| look.entry.remarks.iter().any(|r| r.contains(span.of(look.text)));
    let (alone, unread): (Vec<Span>, Vec<Span>) = look
        .trace
        .unread
        .iter()
        .filter(|s| !kept(s))
        .map(|s| on_a_claw(look, as_written(look, *s)))
        .partition(|s| stands_alone(look, *s));
    for (k, span) in alone.iter().enumerate() {
        let message = format!("not understood: {}; a remark, or nothing?", look.quote(*span));
        let field = format!("remarks[{}]", look.entry.remarks.len() + k);
        let options = [json!(span.of(look.text)), Value::Null];
        flags.push(Flag::ask(FlagKind::Unread, field, message).options(options).at(Some(*span)));
    }
    if let (Some(first), Some(last)) = (unread.first(), unread.last()) {
        let words: Vec<String> = unread.iter().map(|s| look.quote(*s)).collect();
        let message = format!("not understood: {}", words.join(", "));
        flags.push(Flag::note(FlagKind::Unread, "said", message).at(Some(first.to(*last))));
    }
    let loose = look.trace.loose_numbers.iter().filter(|n| !kept(&n.span));
    let mut remark = look.entry.remarks.len() + alone.len();
    for number in loose {
        let flag = of_finding(look, number).unwrap_or_else(|| {
            let told = format!("{}: a number that belongs to nothing", look.quote(number.span));
            // As long as a tag: it may be another cow, whose note it is.
            if number.tag.is_some() && look.entry.cow.is_some() {
                let options = [json!(number.span.of(look.text)), Value::Null];
                let field = format!("remarks[{remark}]");
                remark += 1;
                return Flag::ask(FlagKind::NumberLoose, field, format!("{told}; a remark, or nothing?"))
                    .options(options);
            }
            Flag::note(FlagKind::NumberLoose, "said", told)
        });
        flags.push(flag.at(Some(number.span)));
    }
    if let Some(words) = super::repeat::for_cows_before(look) {
        let message = format!(
            "`{words}`: it is put down for this cow alone; note it for the cows before as well. A remark, or nothing?"
        );
        let options = [json!(words), Value::Null];
        flags.push(Flag::ask(FlagKind::SameOpen, format!("remarks[{remark}]"), message).options(options));
    }
}

/// With the letters and figures written to it: of "M05" the `M` is told of as well as the number.
fn as_written(look: &Look, span: Span) -> Span {
    let (before, after) = (&look.text[..span.start as usize], &look.text[span.end as usize..]);
    let start = before.trim_end_matches(char::is_alphanumeric).len();
    let end = look.text.len() - after.trim_start_matches(char::is_alphanumeric).len();
    Span { start: start as u32, end: end as u32 }
}

/// How far back a part of a sentence is looked for, in bytes: a note may be 64 KB without a comma.
const NEARBY: usize = 120;

/// Whether a word stands by itself between commas or stops, as a finding's part or a deed would: "open, empty, new
/// wrap" had "M two" in its midst.
fn stands_alone(look: &Look, span: Span) -> bool {
    let (before, after) = (&look.text[..span.start as usize], &look.text[span.end as usize..]);
    let parts = |c: char| ",.;".contains(c);
    let begins = before.trim_end().ends_with(parts);
    // "Vort and the corn": what stands in a row with a lesion was one.
    let rest = after.trim_start();
    if is_something_off(look, span) || is_word_on_a_claw(span.of(look.text)) || is_on_a_foot(look, span) {
        return true;
    }
    let lesion_next = rest.starts_with("and ")
        && look
            .trace
            .findings
            .iter()
            .any(|f| f.span.start > span.end && !text_between(look, span.end, f.span.start).contains(parts));
    let ends = rest.starts_with(parts) || rest.is_empty() || lesion_next;
    // "block inner, often 5 weeks": how "off in" is heard.
    let near = words::before(look.text, span.start as usize, NEARBY);
    let part = near.rsplit(parts).next().unwrap_or_default();
    let begins = begins || is_so_long(span.of(look.text)) && part.split_whitespace().count() == 1 && waits(look);
    begins && ends && span.of(look.text).chars().filter(|c| c.is_alphabetic()).count() >= 3
}

/// "walk off right hind, ulcer healed": something came off that was not understood, and nothing else did.
fn is_something_off(look: &Look, span: Span) -> bool {
    let said = span.of(look.text);
    let off = |a: &Action| matches!(a.what, Act::Unblock | Act::Unwrap);
    let known = ["wrap", "block", "bandage", "shoe"].iter().any(|w| words::begins(said, w));
    words::ends_with(said, " off") && said.split(' ').count() == 2 && !known && !look.entry.actions.iter().any(off)
}

/// "walks on the inner": one word or two before a claw, and nothing else.
fn is_word_on_a_claw(said: &str) -> bool {
    const CLAWS: [&str; 6] = ["inner", "outer", "inside", "outside", "medial", "lateral"];
    let said = said.to_lowercase();
    let words: Vec<&str> = said.split_whitespace().collect();
    let (led, claw) = match words[..] {
        [ref led @ .., "on", "the", claw] | [ref led @ .., "on", claw] => (led, claw),
        _ => return false,
    };
    (1..=2).contains(&led.len()) && CLAWS.contains(&claw)
}

/// "Walks on the inner.": the part of the sentence, where a word that was not understood stands before a claw in it, and
/// nothing else in it was understood. How "block on the inner" is heard.
fn on_a_claw(look: &Look, span: Span) -> Span {
    let parts = |c: char| ",.;".contains(c);
    let (before, after) =
        (words::before(look.text, span.start as usize, NEARBY), words::behind(look.text, span.end as usize, NEARBY));
    let led = before.rsplit(parts).next().unwrap_or_default().trim_start();
    let rest = after.split(parts).next().unwrap_or_default().trim_end();
    let part = Span { start: span.start - led.len() as u32, end: span.end + rest.len() as u32 };
    if is_word_on_a_claw(part.of(look.text)) && !look.is_understood(part) { part } else { span }
}

/// "TG on both backs, sprayed both": what stands before a foot that was treated, where no lesion was named, was one.
fn is_on_a_foot(look: &Look, span: Span) -> bool {
    const FOOT: [&str; 14] = [
        "left", "right", "near", "off", "both", "hinds", "fronts", "rears", "backs", "hind", "front", "rear", "back",
        "all",
    ];
    let treated = |a: &Action| {
        a.foot.is_some() && matches!(a.what, Act::Pare | Act::Drain | Act::Topical | Act::Block | Act::Wrap)
    };
    let old = |a: &Action| matches!(a.what, Act::Unblock | Act::Unwrap);
    let actions = &look.entry.actions;
    if !look.entry.findings.is_empty() || !actions.iter().any(treated) || actions.iter().any(old) {
        return false;
    }
    let first = look.trace.actions.iter().map(|a| a.span.start).min().unwrap_or_default();
    let behind = words::behind(look.text, span.end as usize, " on both front ".len()).to_lowercase();
    let mut led = behind.split(' ').skip(1);
    let on = led.next().is_some_and(|w| w == "on" || w == "in");
    let foot = led.take(2).any(|w| FOOT.contains(&w.trim_end_matches([',', '.'])));
    span.start < first && on && foot
}

/// "5 weeks", "ten days"
fn is_so_long(said: &str) -> bool {
    ["week", "weeks", "day", "days", "month", "months"].iter().any(|unit| words::ends_with(said, unit))
}

/// Whether a block or a wrap was put on, and nobody said when it comes off.
fn waits(look: &Look) -> bool {
    look.entry.due.is_empty() && look.entry.actions.iter().any(|a| matches!(a.what, Act::Block | Act::Wrap))
}

fn text_between<'a>(look: &Look<'a>, from: u32, to: u32) -> &'a str {
    look.text.get(from as usize..to as usize).unwrap_or_default()
}

/// A small number right after a lesion may be its zone, or its stage, with the word for it lost.
fn of_finding(look: &Look, loose: &LooseNumber) -> Option<Flag> {
    let (n, said) = loose.after?;
    let k = look.trace.findings.iter().rposition(|f| f.span == said)?;
    let warts = look.entry.findings.get(k)?.disorder == Some(Disorder::DD);
    let (field, word) = if warts { ("stage", "stage") } else { ("zones", "zone") };
    let option = |n: u64| if warts { Stage::new(n, None).map(|s| json!(s)) } else { Some(json!([n])) };
    // A number that is no stage ("M two" heard as "and ten") is asked as well.
    let first = option(u64::from(n));
    // `M7` is all that was said of it.
    let message = if loose.span == said {
        format!("{}: which {word}?", look.quote(said))
    } else {
        format!("{} after {}: its {word}?", look.quote(loose.span), look.quote(said))
    };
    let other = loose.or.and_then(|n| option(n.into()));
    let options = first.into_iter().chain(other).chain([Value::Null]);
    Some(Flag::ask(FlagKind::NumberLoose, format!("findings[{k}].{field}"), message).options(options))
}
