use std::io::Read;
fn main() {
    let mut text = String::new();
    let path = std::env::args().nth_back(0);
    match path {
        Some(p) => text = std::fs::read_to_string(p).unwrap(),
        None => {
            std::io::stdin().read_to_string(&mut text).unwrap();
        }
    }
    let t = std::time::Instant::now();
    let reader =
        chutescribe::Reader::tuned(chutescribe::vocab::Vocabulary::layered(&[]).unwrap_or_else(|e| panic!("{e}")), {
        let mut base: toml::Table = include_str!("../vocab/tuning.toml").parse().unwrap();
        if let Ok(t) = std::env::var("TUNE") { for kv in t.split(',') { let (k, v) = kv.split_once('=').unwrap(); base.insert(k.into(), toml::Value::Integer(v.parse().unwrap())); } }
        base.try_into().unwrap()
    });
    eprintln!("load {:?}", t.elapsed());
    let visit = chrono::NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();
    let args: Vec<String> = std::env::args().collect(); let roster = args.iter().position(|a| a == "--herd").map(|i| chutescribe::roster::Roster::read("r", &std::fs::read_to_string(&args[i + 1]).unwrap()).0);
    let t = std::time::Instant::now();
    for (n, line) in text.lines().enumerate() {
        let r = reader.read_in(line, &chutescribe::read::Setting { visit, cow_before: None, roster: roster.as_ref() }); if std::env::var("WHY").is_ok() { for p in &r.rivals { eprintln!("+{}: {}", p.behind, p.toks.iter().map(|t| format!("{}={:?}", t.span.of(line), t.meaning.map(|m| format!("{m:?}")).unwrap_or_default())).collect::<Vec<_>>().join(" ")); } for t in &r.toks { eprintln!("{:?} {:?} {:?} {:?}", t.span.of(line), t.meaning, t.how, t.form.map(|f| &reader.vocabulary().forms()[f as usize].text)); } } for e in r.entries {
            let mut v = serde_json::to_value(&e).unwrap();
            v["kind"] = "entry".into();
            v["source"] = serde_json::json!({"line": n + 1});
            println!("{v}");
        }
    }
    eprintln!("read {:?}", t.elapsed());
}
