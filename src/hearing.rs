//! Several hearings of one utterance: the n-best list of one recogniser, or what different recognisers wrote.

use serde::{Deserialize, Serialize};

/// What one recogniser heard, once.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Hearing {
    pub text: String,
    /// As the recogniser gave it: the scales of two recognisers need not be alike.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confidence: Option<f64>,
    /// Which recogniser.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
}

/// A line that holds no hearings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BadHearings {
    #[error(
        "one hearing only: set two or more apart by tabs, or write {{\"alternatives\":[{{\"text\":…}}]}}: `{text}`"
    )]
    One { text: String },
    #[error("no hearings in JSON: {why}: `{text}`")]
    Json { why: String, text: String },
    #[error("hearing {nth} has a control character (`{shown}`), which no note has: `{text}`")]
    Control { nth: usize, shown: String, text: String },
    #[error("no hearing has a word in it: `{text}`")]
    Empty { text: String },
}

#[derive(Deserialize)]
struct Alternatives {
    alternatives: Vec<Hearing>,
}

/// The hearings of a line, in its order: set apart by tabs, or as JSON; keys that are not known are passed over.
///
/// A recogniser that heard nothing leaves its part empty: such parts are left out.
///
/// # Errors
/// Says why the line holds no hearings.
pub fn parse(line: &str) -> Result<Vec<Hearing>, BadHearings> {
    let text = || line.trim().to_owned();
    let all: Vec<Hearing> = if line.trim_start().starts_with('{') {
        let told = |e: serde_json::Error| BadHearings::Json { why: short(&e), text: text() };
        serde_json::from_str::<Alternatives>(line).map_err(told)?.alternatives
    } else if line.contains('\t') {
        line.split('\t').map(|t| Hearing { text: t.to_owned(), ..Hearing::default() }).collect()
    } else {
        return Err(BadHearings::One { text: text() });
    };
    let mut heard = Vec::with_capacity(all.len());
    for (i, hearing) in all.into_iter().enumerate() {
        let words = hearing.text.trim();
        if let Some(c) = words.chars().find(|c| c.is_control()) {
            return Err(BadHearings::Control { nth: i + 1, shown: c.escape_default().to_string(), text: text() });
        }
        if !words.is_empty() {
            heard.push(Hearing { text: words.to_owned(), ..hearing });
        }
    }
    if heard.is_empty() { Err(BadHearings::Empty { text: text() }) } else { Ok(heard) }
}

/// The hearing that is read where only one is: the first, as recognisers put their best first. Empty where there
/// is none.
pub fn text_of_best(hearings: &[Hearing]) -> &str {
    hearings.first().map_or("", |h| &h.text)
}

/// What is wrong and in which column; the line is the only one.
fn short(why: &serde_json::Error) -> String {
    let text = why.to_string();
    let text = text.split(" at line ").next().unwrap_or_default();
    format!("{text}, at column {}", why.column())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(line: &str) -> Vec<String> {
        parse(line).unwrap().into_iter().map(|h| h.text).collect()
    }

    #[test]
    fn tabs_and_json_come_to_the_same() {
        assert_eq!(texts("cow 1 clean\t cow one clean \t"), ["cow 1 clean", "cow one clean"]);
        let json =
            r#"{"n":2,"alternatives":[{"text":"cow 1 clean","confidence":0.5,"from":"a","x":[]},{"text":"cow one"}]}"#;
        assert_eq!(texts(json), ["cow 1 clean", "cow one"]);
        let first = &parse(json).unwrap()[0];
        assert_eq!((first.confidence, first.from.as_deref()), (Some(0.5), Some("a")));
    }

    #[test]
    fn a_line_without_hearings_says_why() {
        for (line, why) in [
            (
                "cow 1 clean",
                "one hearing only: set two or more apart by tabs, or write {\"alternatives\":[{\"text\":…}]}: `cow 1 clean`",
            ),
            (
                "{\"alternatives\":[",
                "no hearings in JSON: EOF while parsing a list, at column 17: `{\"alternatives\":[`",
            ),
            (
                "{\"alternatives\":[{\"text\":1}]}",
                "no hearings in JSON: invalid type: integer `1`, expected a string, at column 26: `{\"alternatives\":[{\"text\":1}]}`",
            ),
            (
                "{\"alternative\":[]}",
                "no hearings in JSON: missing field `alternatives`, at column 18: `{\"alternative\":[]}`",
            ),
            ("{\"alternatives\":[]}", "no hearing has a word in it: `{\"alternatives\":[]}`"),
            ("\t \t", "no hearing has a word in it: ``"),
            (
                r#"{"alternatives":[{"text":"a\nb"}]}"#,
                r#"hearing 1 has a control character (`\n`), which no note has: `{"alternatives":[{"text":"a\nb"}]}`"#,
            ),
        ] {
            assert_eq!(parse(line).unwrap_err().to_string(), why);
        }
    }
}
