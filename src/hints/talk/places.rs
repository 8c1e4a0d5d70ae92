//! Where: feet, claws, zones; and how a slip of the tongue is put right.

use super::Talker;

impl Talker<'_> {
    pub(super) fn foot(&mut self) {
        self.glue(&["on the", "the", "on her", "it's the", "in the"], 40);
        self.say_one_of(&[
            (16, "foot.LH"),
            (16, "foot.RH"),
            (8, "foot.LF"),
            (8, "foot.RF"),
            (10, "ends.hind"),
            (5, "ends.front"),
            (2, "all.feet"),
            (2, "both.feet"),
            (3, "side"),
            (1, "otherfoot.same"),
        ]);
        if self.dice.in_100(2) {
            self.say("correction");
            self.say_one_of(&[(1, "foot"), (1, "side")]);
        }
    }

    /// One of the four feet and no more.
    pub(super) fn one_foot(&mut self) {
        self.say_one_of(&[(35, "foot.LH"), (35, "foot.RH"), (15, "foot.LF"), (15, "foot.RF")]);
    }

    pub(super) fn claw(&mut self) {
        self.glue(&["on the", "the", "of the"], 35);
        match self.dice.below(20) {
            0..8 => self.put("outer"),
            8..11 => self.put("inner"),
            11..16 => self.say("claw.outer"),
            16..19 => self.say("claw.inner"),
            _ => self.say("bothclaws.same"),
        }
        if self.dice.in_100(2) {
            self.say("correction");
            self.say("claw");
        }
    }

    pub(super) fn zone(&mut self) {
        self.glue(&["in", "at"], 15);
        if self.dice.in_100(85) {
            self.put("zone")
        } else {
            self.say("zone.cue")
        }
        let zone =
            self.dice.weighed(&[(6, 1), (8, 2), (14, 3), (40, 4), (8, 5), (10, 6), (2, 7), (1, 8), (3, 9), (7, 10)]);
        self.amount(zone);
        if self.dice.in_100(6) {
            let second = self.dice.between(1, 10);
            self.put("and");
            self.amount(second);
        }
        if self.dice.in_100(3) {
            self.say("correction");
            self.maybe(60, "zone.cue");
            let zone = self.dice.between(1, 10);
            self.amount(zone);
        }
    }
}
