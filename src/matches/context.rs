//! What tends to follow what: a small cost for kinds of words that rarely stand side by side.

use crate::vocab::Kind;

/// Cost of a kind after another, in hundredths.
#[derive(Clone, Debug)]
pub struct Context {
    costs: Vec<[u16; Kind::COUNT]>,
}

impl Default for Context {
    fn default() -> Self {
        let mut costs = vec![[0; Kind::COUNT]; Kind::COUNT];
        // "block in four weeks": a claw is not followed by a number.
        costs[Kind::Claw as usize][Kind::Number as usize] = 15;
        // "four oh four": a foot is not followed by a number.
        costs[Kind::Foot as usize][Kind::Number as usize] = 15;
        Self { costs }
    }
}

impl Context {
    pub(crate) fn cost(&self, before: usize, kind: Kind) -> u32 {
        u32::from(self.costs[before][kind as usize])
    }
}
