//! `sheet`: the page for the farmer, as text and as HTML.

use crate::case::Case;

const LOG: &str = include_str!("../../demo/log.jsonl");
const TEXT: &str = include_str!("../../demo/sheet.txt");
const HTML: &str = include_str!("../../demo/sheet.html");

fn demo() -> Case {
    Case::new().at("2026-03-20T08:00:00-05:00").with("log.jsonl", LOG)
}

#[test]
fn the_demo_is_as_shown() {
    let case = demo();
    case.run(&["sheet", "--html", "sheet.html"]).code(0).err("log: log.jsonl\nwritten: sheet.html\n").out(TEXT);
    assert_eq!(case.text("sheet.html"), HTML);
}

#[test]
fn the_page_needs_nothing_from_elsewhere_and_its_elements_are_closed() {
    for word in ["<script", "href=", "src=", "url(", "@import"] {
        assert!(!HTML.contains(word), "{word}");
    }
    for tag in ["table", "tr", "td", "section", "svg", "div", "footer", "p", "text"] {
        let opened = HTML.matches(&format!("<{tag}>")).count() + HTML.matches(&format!("<{tag} ")).count();
        assert_eq!(opened, HTML.matches(&format!("</{tag}>")).count(), "{tag}");
    }
}

/// The counts, by a person who read `demo/day.txt` and the answers.
#[test]
fn the_counts_are_those_of_the_day() {
    for line in [
        "22  cows seen",
        "18  cows with findings",
        " 6  sole ulcer",
        " 1  sole ulcer, healed",
        " 7  blocks on",
        " 4  wraps on",
    ] {
        assert!(TEXT.contains(&format!("  {line}\n")), "{line}");
    }
}

#[test]
fn what_was_said_is_text_and_no_markup() {
    let case = Case::new().with("a.txt", "cow 8, note tell <b>Ann</b> & co\n");
    case.run(&["note", "--on", "2026-03-01", "--farm", "A<i>", "a.txt"]).code(0);
    case.run(&["sheet", "--html", "s.html"]).code(0);
    let page = case.text("s.html");
    assert!(page.contains("A&lt;i&gt;") && !page.contains("<i>") && !page.contains("<b>"), "{page}");
}

#[test]
fn where_there_is_nothing_a_sentence_says_so() {
    demo().run(&["sheet", "--on", "2026-03-11"]).code(0).out("no cow was seen on wed 11 mar 2026\n");
    demo()
        .run(&["sheet", "--farm", "Elm End"])
        .code(0)
        .out("the log has no visit to `Elm End`; it has: Juniper Flat\n");
    Case::new().with("log.jsonl", "").run(&["sheet"]).code(0).out("the log has no entries yet\n");
}

#[test]
fn two_farms_on_a_day_are_two_sheets() {
    let case = demo().with("a.txt", "cow 8 clean\n");
    case.run(&["note", "--on", "2026-03-12", "--farm", "Elm End", "a.txt"]).code(0);
    case.run(&["sheet"]).code(1).out("");
    case.run(&["sheet", "--farm", "elm end"]).code(0).out_has("  1  cows seen\n");
}
