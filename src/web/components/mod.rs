//! The small parts pages are made of.

mod card;
mod closure_line;
mod colour_input;
mod comparison;
mod document;
mod drawing;
mod entry_icon;
mod fields;
mod figure;
mod fold;
mod lengths;
mod markdown;
mod marked_photo;
mod measure_line;
mod outline_drawing;
mod pager;
mod panel;
mod photo;
mod photo_input;
mod qr;
mod shape_drawing;
mod strips;
mod swatch;

pub use crate::sheets::sentence;
pub use card::{card, card_with, empty, empty_for_now};
pub use closure_line::closure_line;
pub use colour_input::colour_input;
pub use comparison::comparison;
pub use document::document;
pub use drawing::layout_drawing;
pub use entry_icon::entry_icon;
pub use fields::{
    ReturnTo, choice, date, errors_summary, field_errors, hidden, length_change_input, length_input, money, number,
    option_list, save_bar, switch, text, text_area,
};
pub use figure::{cautions, changes, changes_in_a_list, figure, working};
pub use fold::{folding, folding_part, on_this_page};
pub use lengths::{
    cloth_length, cloth_length_down, length, length_change, length_cut, length_down, length_sixteenths, length_up,
    size, size_cut, size_up,
};
pub use markdown::markdown;
pub use marked_photo::marked_photo;
pub use measure_line::measure_line;
pub use outline_drawing::outline_drawing;
pub use pager::{Paged, pager};
pub use panel::{kind_shapes, panel_drawing, panel_extent, unit_drawing, unit_letter};
pub use photo::photo;
pub use photo_input::{PHOTO_FORMATS, photo_input};
pub use qr::qr;
pub use shape_drawing::{cut_words, shape_drawing, shape_icon};
pub use strips::{quilting_drawing, strips_drawing};
pub use swatch::{letter, look, safe_colour, swatch};
