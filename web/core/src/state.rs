//! What the core knows between two requests.

use chutescribe::Reader;
use chutescribe::log::Record;
use chutescribe::report::key;
use chutescribe::roster::Roster;
use chutescribe::vocab::Vocabulary;

use crate::ledger::Ledger;

pub(crate) struct State {
    pub(crate) reader: Reader,
    /// The herd file's tags; without one, those seen at the farm are a hint.
    pub(crate) herd: Option<Roster>,
    pub(crate) log: Ledger,
    /// Records of another log, to look cows up in.
    pub(crate) past: Vec<(usize, Record)>,
    /// Id of the visit that the reader was made ready for. Its own entries are no part of the hint.
    hint: Option<String>,
}

impl State {
    pub(crate) fn new() -> Self {
        #[cfg(target_family = "wasm")]
        chutescribe::words::compose_by(crate::host::compose);
        let reader = Reader::new(Vocabulary::built_in());
        Self { reader, herd: None, log: Ledger::default(), past: vec![], hint: None }
    }

    /// The reader is to be made ready anew: words, tags or the other log changed.
    pub(crate) fn changed(&mut self) {
        self.hint = None;
    }

    /// Gives the reader the tags that go with a visit: as `note` has them with the same log.
    pub(crate) fn ready(&mut self, visit: &str, farm: Option<&str>) {
        if self.hint.as_deref() == Some(visit) {
            return;
        }
        let roster = match (&self.herd, farm) {
            (Some(herd), _) => herd.clone(),
            (None, Some(farm)) => Roster::soft(self.seen_at(farm, visit)),
            (None, None) => Roster::default(),
        };
        self.reader.set_roster((!roster.is_empty()).then_some(roster));
        self.hint = Some(visit.to_owned());
    }

    /// Cows that are known for certain at the farm, but for those of this visit.
    fn seen_at(&self, farm: &str, but: &str) -> Vec<String> {
        let past = chutescribe::log::fold(self.past.iter().cloned());
        let mut seen = Vec::new();
        for book in [&past, &self.log.book] {
            let here = |visit: &str| {
                let farm_of = book.visits.iter().find(|v| v.id == visit).and_then(|v| v.farm.as_deref());
                visit != but && farm_of.is_some_and(|f| key(f) == key(farm))
            };
            let counts = book.entries.iter().filter(|e| e.struck.is_none() && e.counts.cow && here(&e.line.visit));
            seen.extend(counts.filter_map(|e| e.entry.cow.clone()));
        }
        seen
    }
}
