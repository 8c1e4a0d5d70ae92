//! It learns a voice: what is confirmed at `settle` or `note` is remembered in a words file.

use crate::case::Case;

const WHARF: &str = "cow 764, wrap off right hind, wharf is healed\n";
const OWN: &str = "data/chutescribe/words.toml";

fn asked(note: &str) -> Case {
    let case = Case::new();
    case.talk(&["note"], note).code(0).out_has("1 question is open");
    case
}

#[test]
fn what_is_confirmed_is_remembered_and_asked_no_more() {
    let case = asked(WHARF);
    let ran = case.talk(&["settle"], "1\ny\n").code(0);
    let path = case.path(OWN).display().to_string();
    ran.out_has(&format!(
        "    remember `wharf` as `wart`? y or n > y\n      remembered in {path}; `chutescribe words --forget \"wharf\"` takes \
         it out\n\nkept 1 answer; no questions are open\n"
    ));
    let text = case.text(OWN);
    assert!(
        text.starts_with("# Words of your own") && text.ends_with("\n[disorder.DD]\nheard = [\"wharf\"]\n"),
        "{text}"
    );
    let read = case.talk(&["read", "--json"], WHARF).code(0);
    assert!(!read.stdout().contains("flags"), "{}", read.stdout());
    read.out_has("\"disorder\":\"DD\"");
    case.run(&["words", "--learned"])
        .code(0)
        .out(&format!("wharf                              disorder.DD            {path}\n"));
    case.run(&["words", "wharf"]).code(0).out_has("known mishearing");
    case.run(&["words", "--forget", "Wharf"]).code(0).out(&format!("`Wharf` is taken out of {path}\n"));
    case.talk(&["read", "--json"], WHARF).code(0).out_has("misheard");
    case.run(&["words", "--learned"]).code(0).out("nothing was learned yet\n");
    case.run(&["words", "--forget", "wharf"])
        .code(1)
        .err("error: `wharf` was not learned; `chutescribe words --learned` lists what was\n");
}

#[test]
fn a_note_is_kept_without_a_question_until_it_is_forgotten() {
    let case = asked(WHARF);
    let monday = |day: &'static str, case: &Case| case.talk(&["note", "--on", day], WHARF).code(0);
    case.talk(&["settle"], "1\ny\n").code(0);
    monday("2026-03-19", &case).out("kept 1 entry of 1 note\n");
    let log = case.log();
    let [asked, answered, plain] = [&log[1], &log[2], &log[4]];
    assert_eq!(asked["flags"][0]["kind"], "misheard");
    assert_eq!((&answered["field"], &answered["value"]["disorder"]), (&"findings[0]".into(), &"DD".into()));
    assert_eq!((&plain["findings"], &plain["flags"]), (&asked["findings"], &serde_json::Value::Null));
    case.run(&["words", "--forget", "wharf"]).code(0);
    monday("2026-03-26", &case).out_has("1 question is open on 1 entry");
    assert_eq!(case.log()[6]["flags"], asked["flags"]);
}

#[test]
fn an_answer_taken_back_is_not_remembered() {
    let case = Case::new();
    let ran = case.talk(&["note", "--ask"], format!("{WHARF}1\ny\n<\n2\n{}", WHARF.replace("764", "765"))).code(0);
    let ran = ran.out_has("    > 2\n      `wharf` is not remembered any more\n");
    assert_eq!(ran.stdout().matches("heard `wharf`").count(), 3, "asked about the next cow again:\n{}", ran.stdout());
    case.run(&["words", "--learned"]).code(0).out("nothing was learned yet\n");
    // The same answer once more changes nothing.
    let case = asked(WHARF);
    case.talk(&["settle"], "1\ny\n").code(0);
    let text = case.text(OWN);
    case.talk(&["settle"], "").code(0).out("no question is open\n");
    assert_eq!(case.text(OWN), text);
}

#[test]
fn a_question_about_what_was_not_said_teaches_nothing() {
    for (note, answer) in [("cow 9, left hind ulcer\n", "1"), ("left hind wart\n", "412"), ("cow 9 left wart", "1")] {
        let case = asked(note);
        let ran = case.talk(&["settle"], format!("{answer}\ny\n")).code(0).out_has("kept 1 answer; no questions");
        assert!(!ran.stdout().contains("remember"), "{}", ran.stdout());
        assert!(!case.path(OWN).exists());
    }
}

#[cfg(unix)]
#[test]
fn the_file_is_changed_whole_and_a_link_stays_a_link() {
    let case = asked(WHARF).with("real.toml", "# mine\n");
    std::os::unix::fs::symlink("real.toml", case.path("my.toml")).unwrap();
    case.talk(&["settle", "--words", "my.toml"], "1\ny\n").code(0).out_has("remembered in my.toml");
    assert_eq!(case.text("real.toml"), "# mine\n\n[disorder.DD]\nheard = [\"wharf\"]\n");
    assert!(case.path("my.toml").symlink_metadata().unwrap().is_symlink());
    let beside = std::fs::read_dir(case.path(".")).unwrap().map(|f| f.unwrap().file_name().into_string().unwrap());
    let mut beside: Vec<String> = beside.collect();
    beside.sort();
    assert_eq!(beside, ["log.jsonl", "my.toml", "real.toml"], "nothing half-written is left");
}

#[test]
fn a_no_and_another_answer_teach_nothing() {
    let case = asked(WHARF);
    case.talk(&["settle"], "1\nn\n").code(0).out_has("remember `wharf` as `wart`?");
    assert!(!case.path(OWN).exists());
    let case = asked(WHARF);
    case.talk(&["settle"], "2\n").code(0);
    assert!(!case.path(OWN).exists());
}

#[test]
fn an_answer_of_a_script_is_never_taken_for_a_yes() {
    let case = Case::new();
    case.talk(&["note"], format!("{WHARF}cow 8, left hind ulcer\n")).code(0);
    let ran = case.talk(&["settle"], "1\nouter\n").code(0).out_has("kept 2 answers; no questions are open\n");
    assert!(!ran.stdout().contains("remember"), "{}", ran.stdout());
}

#[test]
fn it_is_offered_once() {
    let case = Case::new();
    case.talk(&["note"], format!("{WHARF}{}", WHARF.replace("764", "765"))).code(0);
    let ran = case.talk(&["settle"], "1\nn\n1\nn\n").code(0);
    assert_eq!(ran.stdout().matches("remember").count(), 1, "{}", ran.stdout());
}

#[test]
fn the_first_file_that_is_named_takes_it_and_keeps_its_comments() {
    let mine = "# mine\n[disorder.DD] # warts\nsay = [\"velvet foot\"]\n";
    let case = Case::new().with("my.toml", mine);
    let next = WHARF.replace("764", "765");
    let ran = case.talk(&["note", "--ask", "--words", "my.toml"], format!("{WHARF}1\ny\n{next}")).code(0);
    assert_eq!(ran.stdout().matches("heard `wharf`").count(), 1, "known from the next note on:\n{}", ran.stdout());
    assert_eq!(case.text("my.toml"), format!("{mine}heard = [\"wharf\"]\n"));
    assert!(!case.path(OWN).exists());
    case.run(&["words", "--learned", "--words", "my.toml"]).code(0).out_has("wharf     ");
    case.run(&["words", "--forget", "wharf", "--words", "my.toml"]).code(0).out("`wharf` is taken out of my.toml\n");
    assert_eq!(case.text("my.toml"), mine);
}

#[test]
fn feet_and_claws_are_never_learned() {
    let case = Case::new();
    case.talk(&["note"], "cow 98, luck timed out or ulcer zone 4\n").code(0);
    let ran = case.talk(&["settle"], "1\ny\n");
    ran.out_has("heard `luck timed`: foot");
    assert!(!case.path(OWN).exists());
}

#[test]
fn the_own_file_is_laid_over_by_default_and_a_fault_in_it_is_told() {
    let case = Case::new();
    std::fs::create_dir_all(case.path("data/chutescribe")).unwrap();
    let case = case.with(OWN, "[disorder.DD]\nsay = [\"grolsh\"]\n");
    case.talk(&["read"], "cow 5, left hind grolsh\n").code(0).out_has("digital dermatitis");
    case.run(&["words", "grolsh"]).code(0).out_has("disorder.DD");
    let own = case.path(OWN).display().to_string();
    case.talk(&["read", "--words", OWN], "cow 5, left hind grolsh\n").code(0).out_has("digital dermatitis");
    let case = case.with(OWN, "[disorder.XX]\nsay = [\"grolsh\"]\n");
    for args in [vec!["read"], vec!["note"], vec!["settle"], vec!["words"]] {
        let told = format!("error: {own}:2: `[disorder.XX]` is no kind of word this program knows\n");
        case.talk(&args, "cow 5 clean\n").code(1).out("").err(&told);
    }
    let case = case.with(OWN, "[disorder\n");
    for args in [["words", "--learned", ""], ["words", "--forget", "wharf"]] {
        let args: Vec<&str> = args.into_iter().filter(|a| !a.is_empty()).collect();
        case.run(&args).code(1).out("").err(&format!("error: {own}:1: unclosed table, expected `]`\n"));
    }
}

#[test]
fn a_file_that_cannot_be_written_is_told_and_the_answer_stands() {
    let case = asked(WHARF).with("data", "a file where the folder should be");
    let ran = case.talk(&["settle"], "1\ny\n").code(1).out_has("kept 1 answer; no questions are open\n");
    ran.out_has("remember `wharf` as `wart`? y or n > y\n");
    assert_eq!(case.log().len(), 3);
}
