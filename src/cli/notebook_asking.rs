//! Asks what concerns a whole notebook, once.

use chrono::NaiveDate;
use chutescribe::Reader;
use chutescribe::learn::{self, Lesson};
use chutescribe::matches::How;
use chutescribe::notebook::Given;
use chutescribe::notebook::answers::{self, Question};

use super::args::Hearing;
use super::asker::Asker;
use super::fail::Fail;
use super::out::Out;
use super::own_words;

/// Puts the questions; what is answered goes into `given`, and shorthand into the words file where that is wished.
pub(crate) fn ask(
    open: &[Question],
    given: &mut Given,
    reader: &Reader,
    hearing: &Hearing,
    asker: &mut Asker,
    out: &mut Out,
) -> Result<(), Fail> {
    for q in open {
        out.line(&format!("? {}", q.text))?;
        for (line, text) in &q.lines {
            out.line(&format!("    {line}: {text}"))?;
        }
        for (i, (value, label)) in q.options.iter().enumerate() {
            let value = if value == label { String::new() } else { format!(" ({value})") };
            out.line(&format!("      {}  {label}{value}", i + 1))?;
        }
        let word = q.name.strip_prefix("word ");
        loop {
            let Some(line) = asker.line("    > ", out)? else { return Ok(()) };
            let text = line.trim();
            if text == "?" {
                let how = if word.is_some() {
                    "its meaning in words of the trade, such as `wrap`; `-` for nothing; `.` leaves it open"
                } else {
                    "the number of a choice, or the value; `.` leaves it open"
                };
                out.line(&format!("      {how}"))?;
                continue;
            }
            if text == "." || text.is_empty() {
                break;
            }
            let chosen =
                text.parse::<usize>().ok().and_then(|n| q.options.get(n.checked_sub(1)?)).map(|o| o.0.as_str());
            match fits(word, text, reader).and_then(|()| answers::answer(given, &q.name, chosen.unwrap_or(text))) {
                Ok(()) => {
                    if let Some(word) = word {
                        offer(word, text, reader, hearing, asker, out)?;
                    }
                    break;
                }
                Err(why) if asker.is_script() => {
                    out.trouble(why)?;
                    break;
                }
                Err(why) => out.line(&format!("      {why}"))?,
            }
        }
    }
    Ok(())
}

/// What shorthand means must be said in words that are known.
fn fits(word: Option<&str>, text: &str, reader: &Reader) -> Result<(), String> {
    if word.is_none() || text == "-" {
        return Ok(());
    }
    let reading = reader.read(text, NaiveDate::default(), None);
    if reading.toks.iter().all(|t| matches!(t.how, How::Exact(_))) {
        return Ok(());
    }
    Err(format!("`{text}` is not in the vocabulary; say it in words of the trade, or `-` for nothing"))
}

/// Offers to keep shorthand that stands for one term.
fn offer(
    word: &str,
    text: &str,
    reader: &Reader,
    hearing: &Hearing,
    asker: &mut Asker,
    out: &mut Out,
) -> Result<(), Fail> {
    let reading = reader.read(text, NaiveDate::default(), None);
    let [tok] = reading.toks.as_slice() else { return Ok(()) };
    let Some(form) = tok.form.and_then(|f| reader.vocabulary().forms().get(f as usize)) else { return Ok(()) };
    let Some(path) = hearing.words.first().cloned().or_else(own_words::own) else { return Ok(()) };
    let lesson = Lesson { heard: word.to_lowercase(), term: form.term.clone(), meant: form.text.clone() };
    let prompt = format!("    keep `{word}` as `{}`? y or n > ", lesson.meant);
    if asker.yes(&prompt, out)? != Some(true) {
        return Ok(());
    }
    match own_words::change(&path, &own_words::files(&hearing.words), |text| learn::add(text, &lesson).map(Some)) {
        Ok(_) => out.line(&format!(
            "      kept in {}; `chutescribe words --forget \"{}\"` takes it out",
            path.display(),
            lesson.heard
        )),
        Err(why) => out.trouble(why),
    }
}
