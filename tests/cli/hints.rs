//! `words --hints`: what a speech recogniser is given.

use std::collections::HashMap;

use crate::case::Case;

const HERD: &str = "tag\n412\n1008\n77\n";

/// Runs of one, two and three words of a model in the ARPA format: the logarithms of their probability and of what
/// is left to those never seen after them, both to the base of 10.
struct Arpa {
    runs: HashMap<Vec<String>, (f64, f64)>,
}

impl Arpa {
    /// As a reader of the format takes it, with no leniency.
    fn read(text: &str) -> Self {
        let mut lines = text.lines().filter(|l| !l.is_empty());
        assert_eq!(lines.next(), Some("\\data\\"));
        let counts: Vec<usize> = (1..=3)
            .map(|n| lines.next().unwrap().strip_prefix(&format!("ngram {n}=")).unwrap().parse().unwrap())
            .collect();
        let mut runs = HashMap::new();
        for (length, count) in (1..).zip(counts) {
            assert_eq!(lines.next(), Some(format!("\\{length}-grams:").as_str()));
            for _ in 0..count {
                let cells: Vec<&str> = lines.next().unwrap().split_whitespace().collect();
                assert!((length + 1..=length + 2).contains(&cells.len()), "{cells:?}");
                let number = |at: usize| cells.get(at).map_or(0.0, |n: &&str| n.parse::<f64>().unwrap());
                assert!(number(0) <= 0.0, "{cells:?}: no probability is above 1");
                let words = cells[1..=length].iter().map(|w| (*w).to_owned()).collect();
                assert!(runs.insert(words, (number(0), number(length + 1))).is_none(), "{cells:?} stands twice");
            }
        }
        assert_eq!((lines.next(), lines.next()), (Some("\\end\\"), None), "the counts are those of the sections");
        Self { runs }
    }

    fn probability(&self, run: &[&str]) -> f64 {
        let key = |run: &[&str]| run.iter().map(|w| (*w).to_owned()).collect::<Vec<_>>();
        match self.runs.get(&key(run)) {
            Some((p, _)) => 10f64.powf(*p),
            None => {
                let left = self.runs.get(&key(&run[..run.len() - 1])).map_or(0.0, |r| r.1);
                10f64.powf(left) * self.probability(&run[1..])
            }
        }
    }

    fn words(&self) -> impl Iterator<Item = &str> {
        self.runs.keys().filter(|r| r.len() == 1 && r[0] != "<s>").map(|r| r[0].as_str())
    }
}

#[test]
fn a_model_has_the_counts_it_says_and_its_probabilities_sum_to_1() {
    let case = Case::new().with("herd.csv", HERD);
    let args = ["words", "--hints", "arpa", "--herd", "herd.csv", "--out", "model"];
    case.run(&args).code(0).err("").out("model/trade.lm\nmodel/trade.dict\n");
    let arpa = Arpa::read(&case.text("model/trade.lm"));
    for before in
        [&["<s>"][..], &["<s>", "cow"], &["right"], &["right", "hind"], &["sole", "ulcer"], &["clean", "wrap"]]
    {
        assert!(before.iter().all(|w| *w == "<s>" || arpa.words().any(|v| v == *w)), "{before:?}");
        let sum: f64 = arpa.words().map(|w| arpa.probability(&[before, &[w]].concat())).sum();
        assert!((sum - 1.0).abs() < 2e-3, "{before:?}: {sum}");
    }
    let after = |run: &[&str]| arpa.probability(run);
    assert!(after(&["cow", "four", "twelve"]) > 20.0 * after(&["cow", "four", "nineteen"]), "the herd's numbers");
    let dict = case.text("model/trade.dict");
    let sounded: Vec<&str> = dict.lines().filter_map(|l| l.split_whitespace().next()).collect();
    for word in arpa.words().filter(|w| *w != "</s>") {
        assert!(sounded.contains(&word), "`{word}` has no sounds");
    }
    // The same words and tags make the same model.
    let lm = case.text("model/trade.lm");
    case.run(&args).code(0);
    assert!(case.text("model/trade.lm") == lm);
}

#[test]
fn a_prompt_has_two_hundred_words_at_most_and_those_of_the_trade() {
    let case = Case::new().with("my.toml", "[material.cork]\nsay = [\"cork\"]\n").with("herd.txt", "412\n");
    let ran = case.run(&["words", "--hints", "prompt"]).code(0).err("");
    let words = ran.stdout().split_whitespace().count();
    assert!((150..=200).contains(&words), "{words}: {}", ran.stdout());
    assert_eq!(ran.stdout().lines().count(), 1);
    for word in ["ulcer", "outer", "inner", "hind", "wrap"] {
        assert!(ran.stdout().contains(word), "{word}: {}", ran.stdout());
    }
    let mine = case.run(&["words", "--hints", "prompt", "--words", "my.toml"]).code(0);
    assert!(
        mine.stdout().split_whitespace().count() <= 200 && mine.stdout().starts_with("cork. "),
        "{}",
        mine.stdout()
    );
    let numbers = "error: `--herd` is for `--hints arpa` and `--hints list`; a prompt has no room for a herd\n";
    case.run(&["words", "--hints", "prompt", "--herd", "herd.txt"]).code(1).out("").err(numbers);
}

#[test]
fn a_list_has_one_phrase_a_line_and_the_herds_numbers_as_they_are_said() {
    let case = Case::new().with("herd.csv", HERD).with("none.csv", "name,born\nrose,2019\n");
    let lines =
        |args: &[&str]| -> Vec<String> { case.run(args).code(0).err("").stdout().lines().map(str::to_owned).collect() };
    let plain = lines(&["words", "--hints", "list"]);
    let herd = lines(&["words", "--hints", "list", "--herd", "herd.csv"]);
    for list in [&plain, &herd] {
        let mut sorted = list.clone();
        sorted.sort();
        sorted.dedup();
        assert_eq!(&sorted, list, "sorted, each once");
        for phrase in ["heel wart", "sole ulcer", "white line"] {
            assert!(list.iter().any(|p| p == phrase), "{phrase}");
        }
        let odd = |p: &&String| p.is_empty() || p.contains([',', '\t', '"']) || p.trim() != p.as_str();
        assert_eq!(list.iter().find(odd), None);
    }
    for number in ["four twelve", "four one two", "ten oh eight", "one thousand and eight", "seventy seven"] {
        assert!(herd.iter().any(|p| p == number), "{number}");
        assert!(!plain.iter().any(|p| p == number), "{number} without a herd");
    }
    let ran = case.run(&["words", "--hints", "list", "--herd", "none.csv"]).code(1).out("");
    assert!(ran.stderr().ends_with("error: no tag could be read from `none.csv`, so no hints were made\n"));
}
