//! `words`, `completions`, `man`, and how a wrong command is told.

use crate::case::Case;

#[test]
fn looks_up_a_form_a_term_and_a_part() {
    Case::new()
        .run(&["words", "Heel", "wart"])
        .code(0)
        .err("")
        .out("heel wart                          disorder.DD            said       vocab/disorders.toml\n");
    Case::new().run(&["words", "disorder.tn"]).code(0).out_has("toe necrosis ");
    Case::new().run(&["words", "necrobacillosis"]).code(0).out_has("disorder.IP");
    Case::new().run(&["words"]).code(0).out_has("disorder.SU");
}

#[test]
fn what_is_not_there_is_told_with_what_is_near() {
    let ran = Case::new().run(&["words", "ulsers"]).code(1).out("");
    ran.err("error: `ulsers` is not in the vocabulary; near it is `ulcers` (vague.ulcer)\n");
    Case::new()
        .run(&["words", "xyzzyx"])
        .code(1)
        .err("error: `xyzzyx` is not in the vocabulary; a file of your own can add it (`--words FILE`)\n");
}

#[test]
fn checks_a_words_file() {
    let case = Case::new()
        .with("good.toml", "[disorder.DD]\nsay = [\"grolsh\", \"grolshes\"]\n")
        .with("twice.toml", "[disorder.DD]\nsay = [\"grolsh\"]\n\n[disorder.IP]\nsay = [\"grolsh\"]\n");
    case.run(&["words", "--check", "good.toml"]).code(0).out("good.toml: 2 forms, no fault\n");
    case.run(&["words", "--check", "twice.toml"]).code(1).out("").err(
        "error: twice.toml:5: `grolsh` cannot be both [disorder.DD] and [disorder.IP]; take one out, or say what it \
         comes `after`\n",
    );
    case.run(&["words", "--words", "good.toml", "grolsh"]).code(0).out_has("disorder.DD");
}

#[test]
fn completions_and_the_manual_come_from_the_commands_themselves() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        Case::new().run(&["completions", shell]).code(0).out_has("settle");
    }
    Case::new().run(&["man"]).code(0).out_has(".TH chutescribe 1");
    Case::new().run(&["man", "settle"]).code(0).out_has("chutescribe\\-settle");
    Case::new().run(&["man", "nap"]).code(1).err("error: there is no command `nap`\n");
}

#[test]
fn a_wrong_command_ends_with_2() {
    Case::new().run(&["nap"]).code(2);
    Case::new().run(&["strike", "last"]).code(2);
    Case::new().run(&[]).code(2);
}
