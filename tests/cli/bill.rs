//! `bill`: exact sums, supplies, and price files that cannot be used.

use crate::case::Case;

const LOG: &str = include_str!("../../demo/log.jsonl");

fn demo() -> Case {
    Case::new().with("log.jsonl", LOG).with("prices.toml", include_str!("../../demo/prices.toml"))
}

/// By hand: 60.00 + 21 cows at 18.50 (388.50; cow 417 was not trimmed) + 6 blocks at 20.00 + 1 of rubber at 22.50
/// + 4 wraps at 6.25 = 616.00, and 7.5 % of it 46.20.
#[test]
fn the_demo_is_as_shown() {
    let ran = demo().run(&["bill", "--prices", "prices.toml"]).code(0).out(include_str!("../../demo/bill.txt"));
    for amount in ["388.50", "120.00", "22.50", "25.00", "616.00", "46.20", "662.20"] {
        assert!(ran.stdout().contains(amount), "{amount}");
    }
}

#[test]
fn rows_for_other_programs() {
    demo().run(&["bill", "--prices", "prices.toml", "--csv"]).code(0).out(
        "what,number,each,amount\ncall-out,1,60.00,60.00\ncows,21,18.50,388.50\nblocks,6,20.00,120.00\n\
         \"blocks, rubber\",1,22.50,22.50\nwraps,4,6.25,25.00\n",
    );
}

#[test]
fn a_price_file_that_cannot_be_used_is_told_with_its_line() {
    let case = demo().with("bad.toml", "currency = \"USD\"\nhead = 18.5\n");
    let ran = case.run(&["bill", "--prices", "bad.toml"]).code(1).out("");
    assert!(ran.stderr().contains("`bad.toml`: ") && ran.stderr().contains("line 2"), "{}", ran.stderr());
    assert!(ran.stderr().contains("in quotes"), "{}", ran.stderr());
}

#[test]
fn where_there_is_nothing_a_sentence_says_so() {
    let period = ["bill", "--prices", "prices.toml", "--from", "2026-04-01"];
    demo().run(&period).code(0).out("no cow was seen since wed 1 apr 2026\n");
    let empty = Case::new().with("log.jsonl", "").with("prices.toml", "currency = \"EUR\"\n");
    empty.run(&["bill", "--prices", "prices.toml"]).code(0).out("the log has no entries yet\n");
}
