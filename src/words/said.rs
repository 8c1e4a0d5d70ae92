//! Number words, and how two digits of a tag are said together.

pub(crate) const UNITS: [&str; 20] = [
    "oh",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
pub(crate) const BIG: [&str; 2] = ["hundred", "thousand"];
pub(crate) const TENS: [&str; 10] =
    ["oh", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// Two digits as one group: "hundred", "oh four", "eighteen", "sixty two".
pub(crate) fn pair(a: usize, b: usize) -> Vec<&'static str> {
    match (a, b) {
        (0, 0) => vec!["hundred"],
        (0, b) => vec!["oh", UNITS[b]],
        (1, b) => vec![UNITS[10 + b]],
        (a, 0) => vec![TENS[a]],
        (a, b) => vec![TENS[a], UNITS[b]],
    }
}
