use serde_json::json;

use super::*;

fn lesson_of(heard: &str, term: &str) -> Lesson {
    Lesson { heard: heard.to_owned(), term: term.to_owned(), meant: String::new() }
}

#[test]
fn a_new_file_has_a_header_and_one_table() {
    let text = add("", &lesson_of("tile oma", "disorder.IH")).unwrap();
    assert!(text.starts_with("# Words of your own"), "{text}");
    assert!(text.ends_with("\n[disorder.IH]\nheard = [\"tile oma\"]\n"), "{text}");
    Vocabulary::layered(&[("words.toml".into(), text)]).unwrap();
}

#[test]
fn what_is_there_stays_with_its_comments() {
    let text = "# mine\n[disorder.DD] # warts\nsay = [\"velvet\"]\nheard = [\n  # joe\n  \"warped\", # often\n]\n\n[agent.\"tea tree oil\"]\nsay = [\"tea\"] # end\n";
    let added = add(text, &lesson_of("mortal arrow", "disorder.DD")).unwrap();
    assert_eq!(
        added,
        "# mine\n[disorder.DD] # warts\nsay = [\"velvet\"]\nheard = [\n  # joe\n  \"warped\",\n  \"mortal arrow\", # often\n]\n\n[agent.\"tea tree oil\"]\nsay = [\"tea\"] # end\n"
    );
    assert_eq!(add(&added, &lesson_of("mortal arrow", "disorder.DD")).unwrap(), added, "once is enough");
    let added = add(&added, &lesson_of("tree oil tee", "agent.tea tree oil")).unwrap();
    assert!(
        added.ends_with("[agent.\"tea tree oil\"]\nsay = [\"tea\"] # end\nheard = [\"tree oil tee\"]\n"),
        "{added}"
    );
    let all: Vec<_> = learned(&added).unwrap().into_iter().map(|l| (l.heard, l.term)).collect();
    let want = [("warped", "disorder.DD"), ("mortal arrow", "disorder.DD"), ("tree oil tee", "agent.tea tree oil")];
    assert_eq!(all, want.map(|(h, t)| (h.to_owned(), t.to_owned())));
    Vocabulary::layered(&[("words.toml".into(), added)]).unwrap();
}

#[test]
fn comments_at_the_end_stay_in_their_place() {
    let text = "[disorder.IP]\nsay = [\"fowly\"]\n\n# to do: ask joe\n";
    let added = add(text, &lesson_of("x ray", "device.block")).unwrap();
    assert_eq!(added, format!("{text}\n[device.block]\nheard = [\"x ray\"]\n"));
}

#[test]
fn tables_may_be_written_in_any_way() {
    for text in [
        "disorder.DD.say = [\"velvet\"]\n",
        "disorder = { DD = { say = [\"velvet\"] } }\n",
        "[disorder]\nDD = { heard = [] }\n",
        "[disorder.IP]\nsay = [\"fowly\"]\n",
    ] {
        let added = add(text, &lesson_of("mortal arrow", "disorder.DD")).unwrap();
        assert_eq!(learned(&added).unwrap().len(), 1, "{added}");
        Vocabulary::layered(&[("words.toml".into(), added.clone())]).unwrap();
        let forgot = forget(&added, "mortal arrow").unwrap().unwrap();
        assert_eq!(learned(&forgot).unwrap(), []);
    }
}

#[test]
fn forgetting_undoes_it() {
    let text = "# mine\n[disorder.IP]\nsay = [\"fowly\"]\n";
    let added = add(text, &lesson_of("mortal arrow", "disorder.DD")).unwrap();
    assert_eq!(forget(&added, " Mortal Arrow ").unwrap().as_deref(), Some(text));
    assert_eq!(forget(text, "mortal arrow").unwrap(), None);
    let noted = "# why\n[disorder.DD]\nheard = [\"mortal arrow\"]\n";
    assert_eq!(forget(noted, "mortal arrow").unwrap().unwrap(), "# why\n[disorder.DD]\n", "the comment stays");
}

#[test]
fn a_file_that_is_none_is_told_with_its_line() {
    let told = |text: &str| add(text, &lesson_of("x", "disorder.DD")).unwrap_err();
    assert!(matches!(told("# a\n[disorder.DD\n"), EditError::Toml(2, _)));
    assert_eq!(told("disorder = 3\n"), EditError::Shape("disorder.DD".into()));
    assert_eq!(told("[disorder]\nDD = 3\n"), EditError::Shape("disorder.DD".into()));
    assert_eq!(told("[disorder.DD]\nheard = 3\n"), EditError::Shape("disorder.DD".into()));
    assert!(forget("[", "x").is_err() && learned("[").is_err());
}

fn taught(said: &str, heard: &str, value: &Value, answer: &Value) -> Option<Lesson> {
    let reader = Reader::new(Vocabulary::built_in());
    let start = said.find(heard).unwrap();
    let mut flag = Flag::ask(FlagKind::Misheard, "findings[0]", "").options([value.clone(), Value::Null]);
    flag.at = Some([start, start + heard.len()]);
    lesson(&flag, "findings[0]", answer, said, &reader, NaiveDate::from_ymd_opt(2026, 3, 12).unwrap())
}

#[test]
fn an_answer_teaches_what_was_understood() {
    let dd = json!({"foot": "LH", "disorder": "DD"});
    let said = "cow 9 left hind Mortal arrow";
    let lesson = taught(said, "Mortal arrow", &dd, &dd).unwrap();
    assert_eq!((lesson.heard.as_str(), lesson.term.as_str()), ("mortal arrow", "disorder.DD"));
    assert_eq!(taught(said, "Mortal arrow", &dd, &Value::Null), None, "it was not so");
    assert_eq!(taught(said, "arrow", &dd, &dd), None, "not the words that were taken for it");
    assert_eq!(taught("cow 9 left hind wart", "wart", &dd, &dd), None, "the vocabulary has it");
}

#[test]
fn confusable_words_and_numbers_are_never_learned() {
    for (said, heard) in [
        ("cow 9, left hind out her, sole ulcer", "out her"),
        ("cow 9, right hind enter, sole ulcer", "enter"),
        ("cow 9, lefft hind outer sole ulcer", "lefft"),
        ("cow 9, left hinde outer sole ulcer", "hinde"),
        ("Couch 2250, block off left rear, adults are healing.", "Couch"),
        ("cow fourteen ate, left hind wart", "fourteen ate"),
    ] {
        let value = json!("x");
        assert_eq!(taught(said, heard, &value, &value), None, "{said}");
    }
}
