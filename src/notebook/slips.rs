//! What OCR and a hurried hand put for one another: O and 0, l, I and 1, S and 5, B and 8, Z and 2, rn and m.
//!
//! Mended only where a number or a known written form is expected, and always marked.

/// The digit that a character stands for where only digits can stand.
pub(super) fn digit(c: char) -> Option<char> {
    Some(match c {
        '0'..='9' => c,
        'O' | 'o' => '0',
        'l' | 'I' | '|' | 'i' => '1',
        'S' | 's' => '5',
        'B' => '8',
        'Z' | 'z' => '2',
        _ => return None,
    })
}

/// Letters that a letter or digit may have been; a small l and a capital I look alike, L and i do not.
fn letters(c: char) -> &'static [&'static str] {
    match c {
        '0' => &["o"],
        '1' | '|' => &["l", "i"],
        'l' => &["I"],
        'I' => &["l"],
        '5' => &["s"],
        '8' => &["b"],
        '2' => &["z"],
        'm' => &["rn"],
        _ => &[],
    }
}

/// The words, in lower case, that differ from `word` by one or two slips.
pub(super) fn variants(word: &str) -> Vec<String> {
    let once = one_slip(word);
    let mut all: Vec<String> = once.iter().map(|w| w.to_lowercase()).collect();
    for two in once.iter().flat_map(|one| one_slip(one)).map(|w| w.to_lowercase()) {
        if two != word.to_lowercase() && !all.contains(&two) {
            all.push(two);
        }
    }
    all
}

fn one_slip(word: &str) -> Vec<String> {
    let mut out = Vec::new();
    for (i, c) in word.char_indices() {
        for put in letters(c) {
            out.push(format!("{}{put}{}", &word[..i], &word[i + c.len_utf8()..]));
        }
        if word[i..].starts_with("rn") {
            out.push(format!("{}m{}", &word[..i], &word[i + 2..]));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_one_and_two() {
        assert!(variants("b1k").contains(&"blk".to_owned()));
        assert!(variants("trirn").contains(&"trim".to_owned()));
        assert!(variants("5ole").contains(&"sole".to_owned()));
        assert!(variants("lr0").contains(&"lro".to_owned()));
        assert!(variants("bIk").contains(&"blk".to_owned()));
        assert!(!variants("OHL").contains(&"ohi".to_owned()));
        assert_eq!(variants("wrap"), Vec::<String>::new());
    }

    #[test]
    fn digits_where_digits_stand() {
        let mended: Option<String> = "9S5".chars().map(digit).collect();
        assert_eq!(mended.as_deref(), Some("955"));
        assert_eq!("A12".chars().map(digit).collect::<Option<String>>(), None);
    }
}
