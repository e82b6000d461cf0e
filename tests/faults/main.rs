//! What happens when things go wrong in the middle: the program killed, the
//! disk full, many devices at once.

#[path = "../support/cases.rs"]
mod cases;
#[path = "../support/dice.rs"]
mod dice;
#[path = "../support/mod.rs"]
mod support;

mod crowd;
mod damage;
mod disk;
mod hostile;
mod kill;
mod publish_kill;
