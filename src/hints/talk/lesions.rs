//! What is wrong, how bad, and how it goes on.

use super::Talker;

/// How often lesions are spoken of: a rough order, from what herd records count most.
const LESIONS: &[(u32, &str)] = &[
    (16, "vague.ulcer"),
    (14, "disorder.DD"),
    (8, "disorder.SU"),
    (7, "vague.white line"),
    (5, "disorder.WLA"),
    (5, "disorder.SH"),
    (5, "disorder.IP"),
    (5, "disorder.HHE"),
    (5, "vague.abscess"),
    (4, "disorder.WL"),
    (4, "disorder.WLF"),
    (4, "disorder.TU"),
    (4, "disorder.IH"),
    (4, "disorder.DS"),
    (4, "disorder.TS"),
    (3, "disorder.BU"),
    (3, "disorder.CC"),
    (3, "disorder.SC"),
    (3, "disorder.ID"),
    (3, "disorder.TN"),
    (2, "disorder.HFV"),
    (2, "disorder.HFH"),
    (2, "disorder.HFA"),
    (2, "disorder.SW"),
    (2, "disorder.AC"),
    (2, "disorder.CD"),
    (2, "vague.crack"),
    (2, "disorder"),
    (1, "vague"),
];

impl Talker<'_> {
    pub(super) fn lesions(&mut self) {
        for n in 0..self.dice.weighed(&[(70, 1), (24, 2), (6, 3)]) {
            if n > 0 {
                self.glue(&["and", "and the", "then"], 50);
            }
            self.lesion();
            if self.dice.in_100(4) {
                self.say("same");
                self.glue(&["on the", "on"], 90);
                self.say_one_of(&[(3, "side"), (2, "otherfoot"), (1, "foot")]);
            }
            self.deeds();
        }
    }

    fn lesion(&mut self) {
        self.glue(&["she's got", "she has", "there's", "and there's", "she is", "it's"], 25);
        let claw = self.dice.in_100(60);
        let staged = match self.dice.below(10) {
            0..6 => {
                self.foot();
                self.talk(15);
                if claw {
                    self.claw();
                }
                self.glue(
                    &["she has a", "she's got a", "has a", "there's a", "a", "looks like a", "got a", "just a"],
                    55,
                );
                self.named()
            }
            6..9 => {
                self.glue(&["a", "she has a", "she's got", "has", "got a", "there's a", "there's"], 50);
                let staged = self.named();
                self.foot();
                if claw {
                    self.claw();
                }
                staged
            }
            _ => {
                self.foot();
                self.claw();
                self.zone();
                self.named();
                return;
            }
        };
        // The stage comes after the place as often as before it.
        if staged && self.dice.in_100(45) {
            self.stage();
        }
        if claw && self.dice.in_100(65) {
            self.zone();
        }
        self.grade(15);
        self.course();
        self.talk(12);
    }

    /// Names a lesion, and says whether it is one that has stages.
    fn named(&mut self) -> bool {
        self.maybe(4, "hedge.any");
        self.maybe(3, "not.any");
        self.maybe(8, "severity");
        if self.dice.in_100(2) {
            // A stage alone is digital dermatitis.
            self.stage();
            return false;
        }
        let lesion = self.dice.weighed(LESIONS);
        self.say(lesion);
        let mut staged = lesion == "disorder.DD";
        if staged && self.dice.in_100(40) {
            self.stage();
            staged = false;
        }
        if self.dice.in_100(2) {
            self.say("correction");
            self.say("disorder");
        }
        staged
    }

    fn grade(&mut self, times: u32) {
        if self.dice.in_100(times) {
            self.say("severity");
        } else if self.dice.in_100(times / 3) {
            self.say("grade");
            let grade = self.dice.between(1, 3);
            self.amount(grade);
        }
    }

    fn stage(&mut self) {
        if self.dice.in_100(80) {
            self.put("m")
        } else {
            self.say("stage")
        }
        match self.dice.below(10) {
            0 => self.put("four point one"),
            1 => self.put("zero"),
            _ => {
                let stage = self.dice.between(1, 4);
                self.amount(stage);
            }
        }
    }

    fn course(&mut self) {
        if self.dice.in_100(14) {
            self.glue(&["is", "it's", "that's", "looks"], 60);
            self.say_one_of(&[(4, "course.healed"), (4, "course.healing"), (2, "course.open"), (2, "course.worse")]);
        }
    }

    pub(super) fn clear(&mut self) {
        match self.dice.below(10) {
            0..3 => self.say("clearall.any"),
            3..5 => {
                self.say_one_of(&[(2, "ends.front"), (2, "ends.hind"), (1, "foot"), (2, "all.feet"), (2, "rest.feet")]);
                self.glue(&["is", "are", "look"], 40);
                self.say("clear.any");
            }
            _ => {
                self.glue(&["she's", "all"], 20);
                self.say("clear.any");
                if self.dice.in_100(20) {
                    self.glue(&["on the", "on"], 90);
                    self.foot();
                }
            }
        }
        if self.dice.in_100(8) {
            self.say("except.any");
            self.lesion();
            self.deeds();
        }
    }
}
