//! What every page for a farmer says (README.md, "Care").

/// One sentence or two each.
pub const CARE: [&str; 3] = [
    "A record is not a diagnosis: disorders are recorded as the trimmer saw them; diagnosis, prescription medicines \
     and surgery are for a veterinarian.",
    "Medicines only as prescribed and as local law allows, with the withdrawal times that the vet or the label gives.",
    "Keep clear of a restrained animal's feet, and of knives and grinders, when you handle a phone.",
];
