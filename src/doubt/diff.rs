//! What two readings of one cow's part of a note differ in.

use serde_json::{Value, json};

use crate::entry::Entry;

/// A field in which two readings differ, with what each says; `null` is "not there".
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    pub field: String,
    pub mine: Value,
    pub theirs: Value,
}

/// All fields that count in which the two differ. Remarks, flags and what was assumed do not count.
pub fn differences(mine: &Entry, theirs: &Entry) -> Vec<Difference> {
    let mut out = Vec::new();
    if mine.cow != theirs.cow {
        out.push(Difference { field: "cow".into(), mine: json!(mine.cow), theirs: json!(theirs.cow) });
    }
    list("findings", &values(&mine.findings), &values(&theirs.findings), &mut out);
    list("actions", &values(&mine.actions), &values(&theirs.actions), &mut out);
    list("scores", &values(&mine.scores), &values(&theirs.scores), &mut out);
    list("measures", &values(&mine.measures), &values(&theirs.measures), &mut out);
    list("due", &values(&mine.due), &values(&theirs.due), &mut out);
    // One word clears several feet: one question, not one a foot.
    if mine.clear != theirs.clear {
        out.push(Difference { field: "clear".into(), mine: json!(mine.clear), theirs: json!(theirs.clear) });
    }
    out
}

fn values<T: serde::Serialize>(items: &[T]) -> Vec<Value> {
    items.iter().map(|i| json!(i)).collect()
}

/// Pairs what is alike; what is left over on both sides is paired by likeness, then one side stands alone.
fn list(name: &str, mine: &[Value], theirs: &[Value], out: &mut Vec<Difference>) {
    let mut left: Vec<&Value> = theirs.iter().collect();
    let mut open: Vec<usize> = Vec::new();
    for (i, m) in mine.iter().enumerate() {
        match left.iter().position(|t| *t == m) {
            Some(k) => {
                left.remove(k);
            }
            None => open.push(i),
        }
    }
    for i in open {
        let near =
            left.iter().enumerate().max_by_key(|(_, t)| alike(&mine[i], t)).filter(|(_, t)| alike(&mine[i], t) > 0);
        let Some((k, _)) = near else {
            out.push(Difference { field: format!("{name}[{i}]"), mine: mine[i].clone(), theirs: Value::Null });
            continue;
        };
        let other = left.remove(k);
        let fields = differing(&mine[i], other);
        match fields.as_slice() {
            [one] => out.push(Difference {
                field: format!("{name}[{i}].{one}"),
                mine: mine[i].get(one).cloned().unwrap_or(Value::Null),
                theirs: other.get(one).cloned().unwrap_or(Value::Null),
            }),
            _ => out.push(Difference { field: format!("{name}[{i}]"), mine: mine[i].clone(), theirs: other.clone() }),
        }
    }
    for (k, t) in left.iter().enumerate() {
        out.push(Difference { field: format!("{name}[{}]", mine.len() + k), mine: Value::Null, theirs: (*t).clone() });
    }
}

/// How many fields two objects share; 0 for two that name different things.
fn alike(a: &Value, b: &Value) -> usize {
    let (Some(a), Some(b)) = (a.as_object(), b.as_object()) else { return 0 };
    a.iter().filter(|(k, v)| b.get(*k) == Some(v)).count()
}

fn differing(a: &Value, b: &Value) -> Vec<String> {
    let (Some(x), Some(y)) = (a.as_object(), b.as_object()) else { return vec![] };
    let mut keys: Vec<String> = x.keys().chain(y.keys()).cloned().collect();
    keys.sort();
    keys.dedup();
    keys.retain(|k| x.get(k) != y.get(k));
    keys
}
