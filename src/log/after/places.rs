//! Where things are after others were taken out of their list.

use std::collections::HashMap;

use serde_json::Value;

use crate::log::path::Path;

/// The lists of an entry that answers can reach into.
pub(super) const LISTS: [&str; 7] = ["scores", "findings", "actions", "clear", "measures", "due", "remarks"];

/// For every list, the place now of what stood at each place of the entry's own line.
#[derive(Debug, Default)]
pub(super) struct Places(HashMap<&'static str, Vec<Option<usize>>>);

impl Places {
    /// A path counted as in the entry's own line, counted as now; none where the thing was taken out.
    pub(super) fn now(&self, field: &str) -> Option<String> {
        let Ok(mut path) = field.parse::<Path>() else { return Some(field.to_owned()) };
        if let (Some(i), Some(list)) = (path.index, self.0.get(path.name.as_str())) {
            path.index = match list.get(i) {
                Some(now) => Some((*now)?),
                // A question about one more thing than there is.
                None => Some(i - list.iter().filter(|now| now.is_none()).count()),
            };
        }
        Some(path.to_string())
    }

    /// The other way round.
    pub(super) fn before(&self, field: &str) -> String {
        let Ok(mut path) = field.parse::<Path>() else { return field.to_owned() };
        if let (Some(i), Some(list)) = (path.index, self.0.get(path.name.as_str())) {
            let beyond = || i + list.iter().filter(|now| now.is_none()).count();
            path.index = Some(list.iter().position(|now| *now == path.index).unwrap_or_else(beyond));
        }
        path.to_string()
    }
}

/// Takes the things out of an entry's lists, and tells where the others went.
pub(super) fn take_out(entry: &mut Value, gone: &[Path]) -> Places {
    let mut places = Places::default();
    for name in LISTS {
        let Some(Value::Array(list)) = entry.get_mut(name) else { continue };
        let stays: Vec<bool> =
            (0..list.len()).map(|i| !gone.iter().any(|g| g.name == name && g.index == Some(i))).collect();
        let mut flags = stays.iter();
        list.retain(|_| *flags.next().unwrap_or(&true));
        let mut next = 0..;
        places.0.insert(name, stays.iter().map(|s| s.then(|| next.next()).flatten()).collect());
    }
    places
}
