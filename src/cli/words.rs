//! `words`: look into the vocabulary.

use std::path::{Path, PathBuf};

use chutescribe::vocab::{Form, Style, Vocabulary};
use chutescribe::{hints, show};

use super::fail::Fail;
use super::herd::roster_of;
use super::out::Out;
use super::own_words;

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// Words as they are said (`heel wart`), or a term (`disorder.DD`) for all its forms [default: list the terms]
    #[arg(value_name = "WORDS")]
    words: Vec<String>,
    /// Your own words, laid over the built-in vocabulary; may be given more than once.
    /// `words.toml` in the user's data folder is laid over it first, where it is there
    #[arg(long = "words", value_name = "FILE")]
    over: Vec<PathBuf>,
    /// Check that a file can be laid over the built-in vocabulary; may be given more than once
    #[arg(long, value_name = "FILE", conflicts_with = "words")]
    check: Vec<PathBuf>,
    /// List what was learned from answers: the words under `heard` in files of your own
    #[arg(long, conflicts_with_all = ["words", "check", "forget"])]
    learned: bool,
    /// Forget what heard words were learned to mean
    #[arg(long, value_name = "WORDS", conflicts_with_all = ["words", "check"])]
    forget: Option<String>,
    /// Help for a speech recogniser, made from the vocabulary
    #[arg(long, value_name = "KIND", conflicts_with_all = ["words", "check", "learned", "forget"])]
    hints: Option<Hints>,
    /// With `--hints arpa` and `--hints list`: the herd's tags, so that their numbers are expected
    #[arg(long, value_name = "FILE", requires = "hints")]
    herd: Option<PathBuf>,
    /// With `--hints arpa`: the folder to write into
    #[arg(long, value_name = "DIR", requires = "hints", default_value = ".", hide_default_value = true)]
    out: PathBuf,
}

/// What a recogniser can be given.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Hints {
    /// A language model (`trade.lm`, three words deep) and a pronouncing dictionary (`trade.dict`), as files
    Arpa,
    /// A text of at most 200 words that tells a recogniser what it is about; most easily misheard first
    Prompt,
    /// The trade's phrases, one a line, and the herd's numbers as they are said
    List,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    if args.learned {
        return own_words::list(&args.over, out);
    }
    if let Some(heard) = &args.forget {
        return own_words::forget(&args.over, heard, out);
    }
    // A file that is checked is laid over the built-in words, and over nothing that it was not named with.
    let files =
        if args.check.is_empty() { own_words::files(&args.over) } else { [&args.over[..], &args.check[..]].concat() };
    let vocab = own_words::layered(&files)?;
    if let Some(kind) = args.hints {
        return hint(kind, &vocab, args, out);
    }
    if !args.check.is_empty() {
        for path in &args.check {
            let name = path.display().to_string();
            let forms = vocab.forms().iter().filter(|f| f.file == name).count();
            out.line(&format!("{name}: {}, no fault", show::count(forms, "form", "forms")))?;
        }
        return Ok(());
    }
    let text = args.words.join(" ");
    if text.is_empty() {
        return terms(&vocab, out);
    }
    let of_term: Vec<&Form> = vocab.forms().iter().filter(|f| f.term.eq_ignore_ascii_case(&text)).collect();
    if !of_term.is_empty() {
        return of_term.iter().try_for_each(|f| out.line(&row(f)));
    }
    look_up(&vocab, &text, out)
}

fn terms(vocab: &Vocabulary, out: &mut Out) -> Result<(), Fail> {
    let mut seen: Vec<(&str, usize, &str)> = Vec::new();
    for form in vocab.forms() {
        match seen.iter_mut().find(|s| s.0 == form.term) {
            Some(s) => s.1 += 1,
            None => seen.push((&form.term, 1, &form.text)),
        }
    }
    for (term, forms, first) in seen {
        out.line(&format!("{term:<26} {forms:>4}  {first}"))?;
    }
    Ok(())
}

fn hint(kind: Hints, vocab: &Vocabulary, args: &Args, out: &mut Out) -> Result<(), Fail> {
    let roster = args.herd.as_deref().map(|herd| roster_of(herd, out)).transpose()?.unwrap_or_default();
    if let Some(herd) = args.herd.as_ref().filter(|_| roster.is_empty()) {
        return Err(Fail::Told(format!("no tag could be read from `{}`, so no hints were made", herd.display())));
    }
    match kind {
        Hints::Arpa => model(vocab, roster.tags(), &args.out, out),
        Hints::List => hints::list(vocab, roster.tags()).iter().try_for_each(|phrase| out.line(phrase)),
        // Its words are few, and recognisers write numbers well.
        Hints::Prompt if !roster.is_empty() => Err(Fail::Told(
            "`--herd` is for `--hints arpa` and `--hints list`; a prompt has no room for a herd".to_owned(),
        )),
        Hints::Prompt => out.line(&hints::prompt(vocab)),
    }
}

fn model(vocab: &Vocabulary, tags: &[String], folder: &Path, out: &mut Out) -> Result<(), Fail> {
    let model = hints::model(vocab, tags);
    std::fs::create_dir_all(folder)
        .map_err(|e| Fail::Told(format!("`{}` cannot be made: {}", folder.display(), show::trouble(&e))))?;
    for (name, text) in [("trade.lm", &model.lm), ("trade.dict", &model.dict)] {
        let path = folder.join(name);
        std::fs::write(&path, text)
            .map_err(|e| Fail::Told(format!("`{}` cannot be written: {}", path.display(), show::trouble(&e))))?;
        out.line(&path.display().to_string())?;
    }
    Ok(())
}

fn look_up(vocab: &Vocabulary, text: &str, out: &mut Out) -> Result<(), Fail> {
    let spelt: Vec<String> = chutescribe::words::cut(text, |_| true).into_iter().map(|w| w.text.into_owned()).collect();
    let spelt = spelt.join(" ");
    let whole: Vec<&Form> = vocab.forms().iter().filter(|f| f.text == spelt).collect();
    if !whole.is_empty() {
        return whole.iter().try_for_each(|f| out.line(&row(f)));
    }
    let part = |f: &&Form| !spelt.is_empty() && format!(" {} ", f.text).contains(&format!(" {spelt} "));
    let parts: Vec<&Form> = vocab.forms().iter().filter(part).collect();
    if !parts.is_empty() {
        out.line(&format!("`{text}` is no form by itself; it is a part of:"))?;
        return parts.iter().try_for_each(|f| out.line(&row(f)));
    }
    // What recognisers write instead is nothing that anybody means.
    let meant = vocab.forms().iter().filter(|f| f.style != Style::Heard);
    let mut near: Vec<(f64, &Form)> =
        meant.map(|f| (strsim::jaro_winkler(&f.text, &spelt), f)).filter(|n| n.0 >= 0.88).collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0));
    near.truncate(5);
    let told = format!("`{text}` is not in the vocabulary");
    if near.is_empty() {
        return Err(Fail::Told(format!("{told}; a file of your own can add it (`--words FILE`)")));
    }
    let are = show::plural(near.len(), "is", "are");
    let near: Vec<String> = near.iter().map(|(_, f)| format!("`{}` ({})", f.text, f.term)).collect();
    Err(Fail::Told(format!("{told}; near it {are} {}", show::list_or(&near).replace(" or ", " and "))))
}

fn row(form: &Form) -> String {
    let style = match form.style {
        Style::Spoken => "said",
        Style::Written if form.capitals => "written, in capitals",
        Style::Written => "written",
        Style::Heard => "known mishearing",
    };
    format!("{:<34} {:<22} {style:<9}  {}", form.text, form.term, form.file)
}
