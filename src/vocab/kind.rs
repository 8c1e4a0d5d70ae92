//! The kinds of words, for context: what tends to follow what.

macro_rules! kinds {
    ($($(#[$doc:meta])* $kind:ident),+ $(,)?) => {
        /// The kinds of [`super::Meaning`].
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[repr(u8)]
        pub enum Kind { $($(#[$doc])* $kind),+ }

        impl Kind {
            pub const ALL: &'static [Self] = &[$(Self::$kind),+];
            pub const COUNT: usize = Self::ALL.len();

            /// The name in `vocab/context.toml`.
            pub fn name(self) -> &'static str {
                match self { $(Self::$kind => stringify!($kind)),+ }
            }
        }
    };
}

kinds! {
    /// Before the first word.
    Start,
    Cow,
    NumberCue,
    Next,
    Side,
    End,
    Foot,
    Group,
    Claw,
    ClawNoun,
    Part,
    Zone,
    /// A number of a cow's tag; words of this kind count as one of the next five by what stands before.
    Number,
    ZoneNumber,
    /// Of a measure.
    SizeNumber,
    /// Of a score, grade or stage.
    GradeNumber,
    /// Of days, weeks or months.
    CountNumber,
    /// Of nothing that is known.
    LooseNumber,
    Disorder,
    Vague,
    Severity,
    Grade,
    Stage,
    /// A stage with its number, in one term.
    WholeStage,
    Course,
    Block,
    Wrap,
    NewOne,
    Remove,
    Off,
    Lost,
    Stays,
    Work,
    Trim,
    Vet,
    Agent,
    Material,
    Scale,
    OutOf,
    Afterwards,
    Measure,
    Long,
    Unit,
    Period,
    Day,
    In,
    Due,
    Clear,
    Except,
    And,
    Only,
    Not,
    Hedge,
    Correction,
    Same,
    Remark,
    Sign,
    /// Fillers and asides: they let the context through.
    Filler,
    /// Words nobody knows.
    Unread,
}
