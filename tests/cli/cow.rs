//! `cow`: visits, courses, devices and the foot map of one animal.

use crate::case::Case;

const LOG: &str = include_str!("../../demo/log.jsonl");

fn over_time() -> Case {
    let case = Case::new()
        .at("2026-04-30T08:00:00-05:00")
        .with("a.txt", "cow 8, left hind outer ulcer zone four, rubber block on the inner\n")
        .with("b.txt", "cow 8, left hind outer ulcer healed, block off\n")
        .with("c.txt", "cow 8, left hind outer ulcer zone four\n");
    for (day, file) in [("2026-01-01", "a.txt"), ("2026-02-10", "b.txt"), ("2026-04-20", "c.txt")] {
        case.run(&["note", "--on", day, "--farm", "Juniper Flat", file]).code(0);
    }
    case
}

#[test]
fn the_demo_is_as_shown() {
    let case = Case::new().at("2026-03-20T08:00:00-05:00").with("log.jsonl", LOG);
    case.run(&["cow", "930"]).code(0).out(include_str!("../../demo/cow.txt"));
    case.run(&["cow", "4711"]).code(0).out("the log has no cow `4711`\n");
    case.run(&["cow", "930", "--farm", "Elm End"])
        .code(0)
        .out("the log has no visit to `Elm End`; it has: Juniper Flat\n");
}

#[test]
fn a_lesion_is_told_from_first_seen_to_healed_and_again() {
    over_time().run(&["cow", "8"]).code(0).out(
        "cow 8 at Juniper Flat: 3 visits, thu 1 jan 2026 to mon 20 apr 2026

  thu 1 jan 2026   left hind  outer sole ulcer, zone 4; block inner (rubber)
  tue 10 feb 2026  left hind  outer sole ulcer, healed; block off
  mon 20 apr 2026  left hind  outer sole ulcer, zone 4

lesions
  left hind outer  sole ulcer  first seen thu 1 jan 2026; healed tue 10 feb
                               2026, 40 days
  left hind outer  sole ulcer  first seen mon 20 apr 2026; not known to be
                               healed, 10 days, last seen mon 20 apr 2026;
                               AGAIN, time 2 at this place

blocks and wraps
  left hind inner  block  on thu 1 jan 2026; off tue 10 feb 2026, 40 days

findings by place, what was healed left out
          left                   right
         outer  inner  skin       skin  inner  outer
  front      .      .     .          .      .      .
  hind       2      .     .          .      .      .

  left hind outer  zone 4: 2
",
    );
}

#[test]
fn the_foot_map_is_drawn_into_a_file() {
    let case = over_time();
    case.run(&["cow", "8", "--svg", "map.svg"]).code(0).err("log: log.jsonl\nwritten: map.svg\n");
    let svg = case.text("map.svg");
    assert!(svg.starts_with("<svg xmlns=") && svg.ends_with("</svg>\n") && svg.contains(">2</text>"), "{svg}");
}

#[test]
fn cows_of_two_farms_are_two_cows() {
    let case = over_time().with("d.txt", "cow 8 clean\n");
    case.run(&["note", "--on", "2026-04-21", "--farm", "Elm End", "d.txt"]).code(0);
    let both = case.run(&["cow", "8"]).code(0);
    assert_eq!(both.stdout().matches("cow 8 at ").count(), 2);
    assert!(both.stdout().contains("AGAIN"), "the clean feet at Elm End heal nothing at Juniper Flat");
    case.run(&["cow", "8", "--svg", "map.svg"]).code(1);
}
