//! The string distances of the crate `strsim`, against worked examples that others published.
//!
//! Nothing here tests a line of this program: it tests that a new version of the crate still measures
//! what near spellings are judged by.

use strsim::{jaro, jaro_winkler, levenshtein, osa_distance};

fn near(got: f64, published: f64) {
    assert!((got - published).abs() < 0.000_6, "got {got}, published {published}");
}

/// Winkler 1990, "String Comparator Metrics and Enhanced Decision Rules in the Fellegi-Sunter Model of
/// Record Linkage", to three places (from memory).
#[test]
fn winkler_s_examples() {
    near(jaro("MARTHA", "MARHTA"), 0.944);
    near(jaro("DIXON", "DICKSONX"), 0.767);
    near(jaro("DWAYNE", "DUANE"), 0.822);
    near(jaro_winkler("MARTHA", "MARHTA"), 0.961);
    near(jaro_winkler("DIXON", "DICKSONX"), 0.813);
    near(jaro_winkler("DWAYNE", "DUANE"), 0.840);
}

/// The documentation of `strsim`, and the textbook pair for what sets optimal string alignment apart from
/// unrestricted Damerau-Levenshtein: a pair of letters that were swapped is not edited again.
#[test]
fn optimal_string_alignment() {
    assert_eq!(osa_distance("ab", "bca"), 3);
    assert_eq!(osa_distance("CA", "ABC"), 3);
    assert_eq!(strsim::damerau_levenshtein("CA", "ABC"), 2);
}

/// Damerau 1964: the four slips of a typist each cost one.
#[test]
fn one_slip_costs_one() {
    for slip in ["ulecr", "ulcr", "ullcer", "ulcar"] {
        assert_eq!(osa_distance("ulcer", slip), 1, "{slip}");
    }
    // Plain Levenshtein takes two for a swap.
    assert_eq!(levenshtein("ulcer", "ulecr"), 2);
}

/// Wagner & Fischer's problem in its best-known example.
#[test]
fn kitten_and_sitting() {
    assert_eq!(levenshtein("kitten", "sitting"), 3);
}

/// Why a threshold alone is not enough: words that flip the meaning are nearer to each other than a
/// misspelling is to its word. Worked by hand: `fifteen` and `fifty` share `fift`, so that Jaro is
/// (4/7 + 4/5 + 1) / 3 = 0.790 and Winkler adds 4 * 0.1 of what is left.
#[test]
fn words_that_must_never_stand_for_each_other_are_near() {
    near(jaro_winkler("fifteen", "fifty"), 0.874);
    near(jaro_winkler("inner", "dinner"), 0.944);
    assert!(jaro_winkler("inner", "dinner") > jaro_winkler("abscess", "apsess"));
    assert!(jaro_winkler("fifteen", "fifty") > jaro_winkler("haemorrhage", "hemrage"));
}
