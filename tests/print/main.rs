//! Sheets on paper, looked at with poppler (`pdfinfo`, `pdftotext`,
//! `pdffonts`, `pdftoppm`): sizes, text, scale, letters.

#[path = "../support/mod.rs"]
mod support;

mod hostile;
mod lays;
mod pages;
mod panels;
mod paper;
mod pattern;
mod poppler;
mod read_out;
mod scale;
mod sheets;
