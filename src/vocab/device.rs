//! What is put on a foot, and the words for putting it on, taking it off, and the day on which it comes off.

use crate::entry::{Act, DueWhat};

/// A thing put on a foot that must come off again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Device {
    Block,
    Wrap,
}

impl Device {
    /// The one that is put on or taken off by an act.
    pub(crate) fn of(act: Act) -> Option<Self> {
        match act {
            Act::Block | Act::Unblock => Some(Self::Block),
            Act::Wrap | Act::Unwrap => Some(Self::Wrap),
            _ => None,
        }
    }

    /// The one that is to come off.
    pub(crate) fn due(what: DueWhat) -> Option<Self> {
        match what {
            DueWhat::BlockOff => Some(Self::Block),
            DueWhat::WrapOff => Some(Self::Wrap),
            DueWhat::Recheck => None,
        }
    }

    pub(crate) fn put_on(self) -> Act {
        match self {
            Self::Block => Act::Block,
            Self::Wrap => Act::Wrap,
        }
    }

    pub(crate) fn taken_off(self) -> Act {
        match self {
            Self::Block => Act::Unblock,
            Self::Wrap => Act::Unwrap,
        }
    }

    /// What is due when it has to come off.
    pub(crate) fn due_off(self) -> DueWhat {
        match self {
            Self::Block => DueWhat::BlockOff,
            Self::Wrap => DueWhat::WrapOff,
        }
    }
}
