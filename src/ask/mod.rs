//! Open questions: what can be chosen, what an answer in a person's words comes to, and why it is asked.

mod answer;
mod choice;
mod explain;

pub use answer::{Answer, parse};
pub use choice::{Choice, choices, enter_is_safe};
pub use explain::explain;
