//! Sets fields of an entry by their paths.

use serde_json::Value;

use super::places::LISTS;
use crate::entry::Entry;
use crate::log::path::Path;
use crate::log::record::AnswerLine;

/// Fields without which a thing is none: `null` for one of them takes the thing out.
const NEEDED: [(&str, &str); 5] =
    [("scores", "value"), ("measures", "value"), ("due", "on"), ("findings", "disorder"), ("actions", "what")];

/// The entry with every answer's field set, and the things that are taken out; nothing moves yet.
///
/// # Errors
/// Says why an answer does not fit.
pub(super) fn set_all(original: &Entry, answers: &[AnswerLine]) -> Result<(Value, Vec<Path>), String> {
    let bare = Entry { flags: vec![], assumed: vec![], ..original.clone() };
    let mut all = serde_json::to_value(bare).map_err(|e| e.to_string())?;
    let mut gone: Vec<Path> = Vec::new();
    // Two readings of a note can differ by one thing more: then it is asked where it would stand.
    let asked = |path: &Path| original.flags.iter().any(|f| f.field == path.to_string());
    for answer in answers {
        let path: Path = answer.field.parse()?;
        if path.name != "cow" && !LISTS.contains(&path.name.as_str()) {
            return Err(format!("`{}` takes no answer", path.name));
        }
        let Some(thing) = path.thing() else {
            set(&mut all, &path, answer.value.clone())?;
            continue;
        };
        // What was taken out is back once something is answered about it.
        gone.retain(|g| *g != thing);
        let needed = |field: &String| NEEDED.contains(&(path.name.as_str(), field.as_str()));
        if answer.value.is_null() && path.field.as_ref().is_none_or(needed) {
            let there = all.get(&thing.name).and_then(|list| list.get(thing.index?)).is_some();
            if !there && !asked(&path) {
                return Err(MISSING.to_owned());
            }
            gone.extend(there.then_some(thing));
        } else {
            if path.field.is_none() && asked(&path) {
                fill(&mut all, &thing, &mut gone);
            }
            set(&mut all, &path, answer.value.clone())?;
        }
    }
    Ok((all, gone))
}

/// Makes the list as long as it takes for `thing` to stand next in it; the places before it stay empty.
fn fill(all: &mut Value, thing: &Path, gone: &mut Vec<Path>) {
    let Some(map) = all.as_object_mut() else { return };
    let list = map.entry(thing.name.clone()).or_insert_with(|| Value::Array(vec![]));
    let (Value::Array(list), Some(index)) = (list, thing.index) else { return };
    if index > list.len() + MORE {
        return;
    }
    while list.len() < index {
        gone.push(Path { index: Some(list.len()), ..thing.clone() });
        list.push(Value::Null);
    }
}

/// More things than this no two readings differ by.
const MORE: usize = 64;

const MISSING: &str = "there is no such thing in the entry";

fn set(all: &mut Value, path: &Path, value: Value) -> Result<(), String> {
    let map = all.as_object_mut().ok_or(MISSING)?;
    let Some(index) = path.index else {
        map.insert(path.name.clone(), value);
        return Ok(());
    };
    let list = map.entry(path.name.clone()).or_insert_with(|| Value::Array(vec![]));
    let list = list.as_array_mut().ok_or(MISSING)?;
    let Some(field) = &path.field else {
        // One more at the end is how "same" without a like is answered.
        if index == list.len() {
            list.push(value);
        } else {
            *list.get_mut(index).ok_or(MISSING)? = value;
        }
        return Ok(());
    };
    let thing = list.get_mut(index).and_then(Value::as_object_mut).ok_or(MISSING)?;
    if value.is_null() {
        thing.shift_remove(field);
    } else {
        thing.insert(field.clone(), value);
    }
    Ok(())
}
