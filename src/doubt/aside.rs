//! Things that one hearing made up, most likely: they are out of the record until somebody says that they were said.

use serde_json::Value;

use super::wording::parts;
use crate::entry::Entry;

/// Takes the things that the fields name ("actions[1]") out of their lists. What is asked of them counts from now on
/// as of one thing more than there is, and "nothing" is its first answer.
pub(super) fn lay_aside(entry: &mut Entry, fields: &[String]) {
    let Ok(mut all) = serde_json::to_value(&*entry) else { return };
    let mut moved: Vec<(String, usize, usize)> = Vec::new();
    for name in ["findings", "actions", "scores", "measures", "due"] {
        let Some(list) = all.get_mut(name).and_then(Value::as_array_mut) else { continue };
        let out = |i: usize| fields.iter().any(|f| *f == format!("{name}[{i}]"));
        let stays = (0..list.len()).filter(|i| !out(*i)).count();
        let (mut at, mut beyond) = (0.., stays..);
        for i in 0..list.len() {
            let to = if out(i) { beyond.next() } else { at.next() };
            moved.extend(to.map(|to| (name.to_owned(), i, to)));
        }
        let mut i = 0..;
        list.retain(|_| i.next().is_some_and(|i| !out(i)));
    }
    let gone =
        |field: &str| fields.iter().any(|f| field.strip_prefix(f.as_str()).is_some_and(|rest| rest.starts_with('.')));
    let now = |field: &str| {
        let (name, index, part) = parts(field)?;
        let index: usize = index.parse().ok()?;
        let (_, _, to) = moved.iter().find(|(n, from, _)| n == name && *from == index)?;
        Some(part.map_or_else(|| format!("{name}[{to}]"), |part| format!("{name}[{to}].{part}")))
    };
    let Ok(mut new) = serde_json::from_value::<Entry>(all) else { return };
    new.flags.retain(|f| !gone(&f.field));
    for flag in &mut new.flags {
        if fields.contains(&flag.field) {
            flag.options.sort_by_key(|o| !o.is_null());
        }
        flag.field = now(&flag.field).unwrap_or_else(|| std::mem::take(&mut flag.field));
    }
    new.assumed.retain(|a| !gone(a) && !fields.contains(a));
    for assumed in &mut new.assumed {
        *assumed = now(assumed).unwrap_or_else(|| std::mem::take(assumed));
    }
    *entry = new;
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::flag::{Flag, FlagKind};

    #[test]
    fn what_is_laid_aside_is_asked_of_as_one_more_and_the_others_move_up() {
        let mut entry: Entry = serde_json::from_value(json!({
            "cow": "8",
            "findings": [{"foot": "LF", "disorder": "DD"}, {"foot": "RF", "claw": "inner", "disorder": "WL"}],
            "actions": [{"what": "block", "foot": "RF", "claw": "outer"}],
            "assumed": ["findings[0].claw", "findings[1].claw"],
        }))
        .unwrap();
        let ask = |field: &str, options: [Value; 2]| Flag::ask(FlagKind::HearingsDiffer, field, "?").options(options);
        entry.flags = vec![
            ask("findings[0]", [json!({"foot": "LF", "disorder": "DD"}), Value::Null]),
            ask("findings[0].zones", [json!([1]), Value::Null]),
            ask("findings[1].zones", [json!([2]), Value::Null]),
            ask("actions[0].claw", [json!("outer"), Value::Null]),
        ];
        lay_aside(&mut entry, &["findings[0]".to_owned()]);
        assert_eq!(entry.findings.len(), 1);
        let asked: Vec<&str> = entry.flags.iter().map(|f| f.field.as_str()).collect();
        assert_eq!(asked, ["findings[1]", "findings[0].zones", "actions[0].claw"]);
        assert!(entry.flags[0].options[0].is_null());
        assert_eq!(entry.assumed, ["findings[0].claw"]);
    }
}
