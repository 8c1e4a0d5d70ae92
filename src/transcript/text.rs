//! The words of a cue: tags out, entities decoded, blanks evened.

/// The words, and who speaks where a `<v Name>` says it.
pub(super) fn plain(markup: &str) -> (String, Option<String>) {
    let mut text = String::with_capacity(markup.len());
    let mut voice = None;
    let mut rest = markup;
    while let Some(at) = rest.find(['<', '{']) {
        text.push_str(&rest[..at]);
        rest = &rest[at..];
        if let Some((inside, after)) = tag(rest) {
            if let Some(name) = inside.strip_prefix('v').and_then(|v| v.split_once([' ', '\t'])) {
                voice.get_or_insert_with(|| decoded(name.1.trim()));
            }
            rest = after;
        } else {
            text.push_str(&rest[..1]);
            rest = &rest[1..];
        }
    }
    text.push_str(rest);
    let words: Vec<String> = text.split_whitespace().map(decoded).collect();
    (words.join(" ").trim().to_owned(), voice)
}

/// What stands in the tag at the start, and what follows it: `<c.loud>`, `</c>`, `<00:01.000>`, `{\an8}`. A `<`
/// with a blank or a number after it is none ("< 5 mm").
fn tag(text: &str) -> Option<(&str, &str)> {
    if let Some(inside) = text.strip_prefix("{\\") {
        return inside.split_once('}');
    }
    let (inside, after) = text.strip_prefix('<')?.split_once('>')?;
    let name = inside.trim_start_matches('/');
    let time = inside.contains(':') && inside.bytes().all(|b| b.is_ascii_digit() || b":.,".contains(&b));
    (inside.is_empty() || inside == "/" || time || name.starts_with(|c: char| c.is_ascii_alphabetic()))
        .then_some((inside, after))
}

/// Entities of `WebVTT` and character references; what is none stays as it is. Control characters become blanks.
fn decoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let entity = rest.split_once(';').and_then(|(name, after)| Some((character(&name[1..])?, after)));
        if let Some((c, after)) = entity {
            out.push_str(&c);
            rest = after;
        } else {
            out.push('&');
            rest = &rest[1..];
        }
    }
    out.push_str(rest);
    out
}

fn character(name: &str) -> Option<String> {
    let known = match name {
        "amp" => "&",
        "lt" => "<",
        "gt" => ">",
        "quot" => "\"",
        "apos" => "'",
        "nbsp" => " ",
        "lrm" | "rlm" => "",
        _ => {
            let number = name.strip_prefix('#')?;
            let code = match number.strip_prefix(['x', 'X']) {
                Some(hex) => u32::from_str_radix(hex, 16).ok()?,
                None => number.parse().ok()?,
            };
            let c = char::from_u32(code)?;
            return Some(if c.is_control() { " ".to_owned() } else { c.to_string() });
        }
    };
    Some(known.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_go_and_words_stay() {
        for (markup, text) in [
            ("<v Ines>cow 5</v> <c.loud>clean</c>", "cow 5 clean"),
            ("cow<00:00:01.500><c> 5</c> clean", "cow 5 clean"),
            ("<i>cow 5</i> <font color=\"#fff\">clean</font>", "cow 5 clean"),
            ("{\\an8}cow 5\tclean ", "cow 5 clean"),
            ("sole &lt; 5 mm &amp; soft, Ines&#39;s cow&nbsp;5", "sole < 5 mm & soft, Ines's cow 5"),
            ("sole < 5 mm, toe > 70 mm", "sole < 5 mm, toe > 70 mm"),
            ("a & b; c &unknown; d &#xd800;", "a & b; c &unknown; d &#xd800;"),
            ("&#7;cow&#10;5", "cow 5"),
            ("<v", "<v"),
        ] {
            assert_eq!(plain(markup).0, text);
        }
    }

    #[test]
    fn who_speaks_is_known() {
        assert_eq!(plain("<v.first Ines Calloway>cow 5").1.as_deref(), Some("Ines Calloway"));
        assert_eq!(plain("cow 5").1, None);
    }
}
