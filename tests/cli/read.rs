//! `read`.

use crate::case::Case;

const NOTE: &str = "cow 412, right hind outer ulcer zone 4, block, wrap with salicylic acid, recheck in four weeks\n";

#[test]
fn shows_what_was_understood_foot_by_foot() {
    Case::new().talk(&["read", "--on", "2026-03-12"], NOTE).code(0).err("").out(
        "\
cow 412                                                                   line 1
  right hind   outer sole ulcer, zone 4
               block inner, as the sound claw; wrap (salicylic acid)
  due          recheck thu 9 apr 2026, right hind

",
    );
}

#[test]
fn underlines_the_doubtful_words_and_numbers_the_choices() {
    Case::new().talk(&["read"], "cow 430, ulcer left rear, block on").code(0).out(
        "\
cow 430                                                                   line 1
  left hind    sole ulcer
               block
  ? `ulcer` on the left hind: outer or inner claw?
      cow 430, ulcer left rear, block on
               ^^^^^
      1  outer
      2  inner

",
    );
}

#[test]
fn underlines_in_the_cows_own_part_of_a_note() {
    Case::new().talk(&["read"], "cow 9 clean. cow 10, left hind ulcer").code(0).out_has(
        "      cow 10, left hind ulcer
                        ^^^^^
",
    );
}

/// The id is what `printf 'entry\n…\n' | sha256sum` gives (`src/log/id.rs`).
#[test]
fn json_is_the_line_that_the_log_would_have() {
    let case = Case::new().with("day.txt", format!("# monday\n\n{NOTE}"));
    let read = case.run(&["read", "--farm", "Juniper Flat", "--json", "day.txt"]).code(0).err("");
    assert_eq!(
        read.stdout(),
        "{\"v\":1,\"kind\":\"entry\",\"id\":\"ee33120c9c6466ba\",\"at\":\"2026-03-12T09:41:07-05:00\",\"visit\":\"5ccf7890b7e73f4b\",\
         \"cow\":\"412\",\"findings\":[{\"foot\":\"RH\",\"claw\":\"outer\",\"zones\":[4],\"disorder\":\"SU\"}],\
         \"actions\":[{\"what\":\"block\",\"foot\":\"RH\",\"claw\":\"inner\"},\
         {\"what\":\"wrap\",\"foot\":\"RH\",\"agent\":\"salicylic acid\"}],\
         \"due\":[{\"what\":\"recheck\",\"on\":\"2026-04-09\",\"foot\":\"RH\"}],\"assumed\":[\"actions[0].claw\"],\
         \"said\":\"cow 412, right hind outer ulcer zone 4, block, wrap with salicylic acid, recheck in four weeks\",\
         \"source\":{\"file\":\"day.txt\",\"line\":3}}\n"
    );
    case.run(&["note", "--farm", "Juniper Flat", "day.txt"]).code(0);
    let sealed = case.text("log.jsonl").lines().nth(1).unwrap().to_owned();
    let (line, seal) = sealed.split_once(",\"seal\":").unwrap();
    assert_eq!((format!("{line}}}\n").as_str(), seal.len()), (read.stdout(), 36));
}

#[test]
fn why_shows_how_each_word_was_taken() {
    Case::new().talk(&["read", "--why"], "cow 12, the LH DD").code(0).out(
        "\
cow 12, the LH DD
    heard  taken for    how            cost
    cow    cow.cue      word for word  0
    12     number       word for word  0
    the    filler.any   passed over
    LH     foot.LH      as written     0
    DD     disorder.DD  as written     0

cow 12                                                                    line 1
  left hind    digital dermatitis

",
    );
}

#[test]
fn why_shows_what_was_taken_by_its_sound_and_what_else_it_could_be() {
    let read = Case::new().talk(&["read", "--why"], "cow 12, left hind frobnicate").code(0);
    read.out_has("  by its sound   ").out_has("\n    or, 0.");
}

#[test]
fn a_number_sign_before_a_digit_is_a_cow_and_no_comment() {
    Case::new().talk(&["read"], "# 12 cows today\n#412 clean\n").code(0).out(
        "\
cow 412                                                                   line 2
  all four     clean

",
    );
}

#[test]
fn several_files_are_told_apart() {
    let case = Case::new().with("a.txt", "cow 1 clean").with("b.txt", "cow 2 clean");
    case.run(&["read", "a.txt", "b.txt"]).code(0).out(
        "\
cow 1                                                                    a.txt:1
  all four     clean

cow 2                                                                    b.txt:1
  all four     clean

",
    );
}

#[test]
fn words_of_the_users_own_are_laid_over() {
    let case = Case::new().with("own.toml", "[disorder.DD]\nsay = [\"grolsh\"]\n");
    case.talk(&["read", "--words", "own.toml"], "cow 1 left hind grolsh")
        .code(0)
        .out_has("  left hind    digital dermatitis\n");
}

#[test]
fn no_line_of_output_is_wider_than_eighty_columns() {
    let long = "cow 12, left hind outer ulcer zone four severe healing, rubber block inner, wrap salicylic acid, left \
                hind digital dermatitis M two, note she kicks hard and does not like the dog that sits at the gate \
                and barks, toe length 80 millimeters, right hind white line";
    let read = Case::new().talk(&["read"], long).code(0);
    assert!(read.stdout().lines().all(|l| l.chars().count() <= 80), "{}", read.stdout());
}

#[test]
fn any_number_of_threads_reads_the_same() {
    // With notes that need the cow of the note before.
    let notes: String = (0..700)
        .map(|n| match n % 7 {
            3 => "left hind outer sole ulcer zone four, block inner\n".to_owned(),
            5 => format!("Cal {n}, right hine out her abs as zone 2\n"),
            6 => format!("# {n}\n\n"),
            _ => format!("cow {n}, right hind dermatitis, wrap\n"),
        })
        .collect();
    let case = Case::new().with("day.txt", notes);
    for how in [&["--json"][..], &[], &["--why"]] {
        let run =
            |jobs: &str| case.run(&[&["read", "day.txt", "--on", "2026-03-12", "--jobs", jobs], how].concat()).code(0);
        let one = run("1");
        assert!(one.stdout().contains("698"));
        for jobs in ["2", "5"] {
            assert!(run(jobs).stdout() == one.stdout(), "{jobs} threads and {how:?}");
        }
    }
}
