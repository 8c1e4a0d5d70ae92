//! What was done, scored and measured, and when it is due.

use super::Talker;

impl Talker<'_> {
    pub(super) fn deeds(&mut self) {
        let deeds: [(u32, fn(&mut Self)); 6] = [
            (20, |t| t.say("pare.any")),
            (12, |t| t.say("drain.any")),
            (38, Self::block),
            (30, Self::wrap),
            (6, Self::topical),
            (4, Self::had_one),
        ];
        for (times, deed) in deeds {
            if self.dice.in_100(times) {
                self.glue(&["and", "i", "so i", "then", "going to", "i'm going to"], 45);
                deed(self);
                self.talk(8);
            }
        }
    }

    fn block(&mut self) {
        match self.dice.below(12) {
            0..7 => {
                self.glue(&["put a", "a", "put on a"], 40);
                self.say("device.block");
            }
            7..10 => {
                self.glue(&["put a", "a", "put on a"], 40);
                self.say("material");
                self.put("block");
            }
            10 => self.say_one_of(&[(2, "devices.block"), (2, "reblock.block"), (1, "newone.any")]),
            _ => self.say("shoe.shoe"),
        }
        match self.dice.below(10) {
            0..4 => self.block_claw(),
            4..6 => {
                self.say_one_of(&[(1, "in.cue"), (4, "filler.any")]);
                self.block_claw();
            }
            6 => self.put("on"),
            7 => {
                self.put("on the");
                self.block_claw();
            }
            _ => {}
        }
    }

    fn block_claw(&mut self) {
        self.say_one_of(&[(40, "claw.inner"), (14, "claw.outer"), (30, "otherclaw.same"), (6, "claws"), (4, "foot")]);
    }

    fn wrap(&mut self) {
        match self.dice.below(10) {
            0..5 => self.say("device.wrap"),
            5..7 => {
                self.say("agent");
                self.say("device.wrap");
            }
            7..8 => {
                self.say("device.wrap");
                self.put("with");
                self.say("agent");
            }
            8 => {
                self.say("device.wrap");
                self.say_one_of(&[(3, "both.feet"), (1, "all.feet"), (1, "foot")]);
            }
            _ => self.say_one_of(&[(1, "devices.wrap"), (2, "reblock.wrap")]),
        }
    }

    fn topical(&mut self) {
        if self.dice.in_100(50) {
            self.say("agent");
        }
        self.say("topical.any");
        if self.dice.in_100(30) {
            self.put("with");
            self.say("agent");
        }
    }

    /// Something put on at an earlier visit.
    pub(super) fn had_one(&mut self) {
        let device = self.dice.weighed(&[(6, "block"), (4, "wrap")]);
        let say = format!("device.{device}");
        self.maybe(15, "had.any");
        match self.dice.below(12) {
            0..3 => {
                self.say(&say);
                self.say("off.any");
            }
            3..6 => {
                self.say("remove.any");
                self.glue(&["the", "her", "that"], 80);
                self.put(device);
                self.put("off");
            }
            6..8 => {
                self.say(&say);
                self.glue(&["was", "is", "has"], 50);
                self.say("lost.any");
            }
            8 => {
                self.say("lost.any");
                self.glue(&["her", "the", "that"], 60);
                self.say(&say);
            }
            9 => {
                self.say(&say);
                self.glue(&["is", "was"], 50);
                self.say("stays.any");
            }
            10 => self.say("takenoff.any"),
            _ => self.say(&format!("undo.{device}")),
        }
        if self.dice.in_100(60) {
            self.foot();
        }
        if self.dice.in_100(35) {
            self.glue(&["the", "and the", "that"], 50);
            self.say_one_of(&[(3, "vague.ulcer"), (2, "disorder"), (1, "vague")]);
            self.glue(&["is", "looks"], 40);
            self.say("course");
        }
        if self.dice.in_100(10) {
            self.say("newone.any");
        }
    }

    pub(super) fn whole_trim(&mut self) {
        self.glue(&["just a", "a", "i"], 50);
        self.say("trim.any");
        if self.dice.in_100(40) {
            self.glue(&["on"], 40);
            self.say("all.feet");
        }
    }

    pub(super) fn vet(&mut self) {
        self.say("vet.any");
    }

    pub(super) fn sign(&mut self) {
        self.say("sign");
    }

    pub(super) fn score(&mut self) {
        let (scale, low, top) = self.dice.weighed(&[
            (5, ("scale.locomotion", 1, 5)),
            (3, ("scale.mobility", 0, 3)),
            (5, ("score.cue", 1, 5)),
        ]);
        self.say(scale);
        let value = self.dice.between(low, top);
        self.amount(value);
        if self.dice.in_100(6) {
            self.say("outof.cue");
            self.amount(top);
        }
        self.maybe(10, "afterwards.any");
    }

    pub(super) fn measure(&mut self) {
        let (what, low, top, unit) = self.dice.weighed(&[
            (5, ("measure.toe_length", 60, 110, "unit.mm")),
            (4, ("measure.sole_thickness", 2, 12, "unit.mm")),
            (2, ("measure.heel_height", 20, 60, "unit.mm")),
            (2, ("measure.toe_angle", 38, 60, "unit.degree")),
            (1, ("measure.toe_length", 6, 11, "unit.cm")),
            (1, ("measure.toe_length", 2, 4, "unit.inch")),
        ]);
        if self.dice.in_100(20) {
            self.say("part");
        } else {
            self.say(what);
        }
        self.glue(&["is", "at", "about"], 30);
        let value = self.dice.between(low, top);
        self.amount(value);
        if top < 15 && self.dice.in_100(20) {
            if self.dice.in_100(50) {
                self.put("and a half");
            } else {
                self.put("point");
                let place = self.dice.between(1, 9);
                self.amount(place);
            }
        }
        if self.dice.in_100(80) {
            self.say(unit);
        }
        self.maybe(15, "long.any");
        if self.dice.in_100(55) {
            self.one_foot();
            if self.dice.in_100(70) {
                self.claw();
            }
        }
    }

    pub(super) fn due(&mut self) {
        match self.dice.below(10) {
            0..5 => self.say("due.recheck"),
            5..7 => self.say("due.look"),
            _ => {
                let device = self.dice.one_of(&["block", "wrap"]);
                self.glue(&["take the", "the"], 25);
                self.put(device);
                self.say("off.any");
            }
        }
        self.when();
    }

    fn when(&mut self) {
        match self.dice.below(20) {
            0..11 => {
                let cue = self.dice.weighed(&[(80, "in"), (8, "after"), (12, "")]);
                if !cue.is_empty() {
                    self.put(cue);
                }
                self.period();
            }
            11..15 => {
                let on = self.dice.weighed(&[(50, ""), (30, "on"), (20, "next")]);
                if !on.is_empty() {
                    self.put(on);
                }
                self.say("weekday");
            }
            15..18 => self.say("relative"),
            _ => {
                self.put("on the");
                self.say("ordinal");
                if self.dice.in_100(70) {
                    self.put("of");
                    self.say("monthname");
                }
            }
        }
    }

    fn period(&mut self) {
        let (key, top) = self.dice.weighed(&[
            (30, ("period.day", 14)),
            (55, ("period.week", 12)),
            (10, ("period.month", 6)),
            (5, ("period.fortnight", 1)),
        ]);
        match self.dice.below(12) {
            0 => self.put("a"),
            1 => {
                self.put("a");
                self.say("couple.2");
            }
            _ => {
                let count = self.dice.between(1, top);
                self.amount(count);
            }
        }
        self.say(key);
    }
}
