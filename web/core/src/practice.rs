//! Notes that are read before anybody says one: a browser makes the code that is used much fast only while it is used,
//! and what was found in sounds is remembered.

/// As a recogniser writes them, so that every part of hearing is used; one a step.
pub(crate) const NOTES: [&str; 8] = [
    "Cal 412, right rear out her, soul ulcer zone four, block enter, rap.",
    "Count 231 left hind, white line abs this zone 3 outer, drained it, re-check in four weeks.",
    "how ten sixty two both hines, digital dermatitis em two, sprayed and rapped, the rest is clean.",
    "Cow 516 all four trimmed locomotion score 3, toe length three inches, no lesions.",
    "kow 88 front left inner, cork screw claw, thin soles, took it down, block the out her.",
    "Four oh seven right hind, foul in the foot, fever is 104, call the vet.",
    "Cow 33, left rear inner sole hemorrhage grade 2, same on the right, recheck in thirty days.",
    "231 block off, ulcer is healing, walks better, hairy wart on the left hind M for, no not left, right hind.",
];
