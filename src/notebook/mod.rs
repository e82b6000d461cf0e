//! The notebook on disk: one folder with `notebook.sqlite` and `photos/`.
//! All SQL of the program stands in this folder.
