//! Photographs: what is taken in, how originals are kept, and the smaller
//! JPEGs that pages and sheets show.
//!
//! An original never leaves the notebook's folder. What leaves is drawn anew
//! from its pixels, so nothing a phone wrote into the file goes with it.

/// Everything that can be wrong with a photo, each as a sentence.
mod error;
/// A file looked at before it is kept: format, size, pixels, whole or torn.
mod examine;
/// The name of an original: the hash of its content.
mod grey;
mod hash;
/// The smaller JPEGs.
mod sized;
/// Which format the content has, whatever the file is called.
mod sniff;
/// The folder of originals and of what was drawn from them.
mod store;
/// The part of a photo a cloth is known by, and its colours.
mod swatch;
/// When a photo was taken, by the camera's own note.
mod taken;
/// Whether a JPEG is there to its end.
mod whole;

pub use error::PhotoError;
pub use examine::{Examined, MAX_BYTES, MAX_PIXELS, examine};
pub use grey::GreyPhoto;
pub use hash::PhotoHash;
pub use sized::PhotoSize;
pub use sniff::{PhotoFormat, sniff};
pub use store::Store;
pub(crate) use store::sync_folder;
pub use swatch::{Colours, Region};
