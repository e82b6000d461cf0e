//! A form that carries photos: its texts as any other form's, its files in
//! temporary files that vanish by themselves, and a sentence for every file
//! that could not be taken. One bad file never costs the others.

use super::app::App;
use super::error::WebError;
use super::form::{Typed, clean_line};
use crate::notebook::{AddPhotoError, Notebook, PhotoHash};
use actix_multipart::form::tempfile::TempFile;
use actix_multipart::form::{FieldReader, Limits};
use actix_multipart::{Multipart, MultipartError};
use actix_web::HttpRequest;
use actix_web::error::PayloadError;
use futures_util::TryStreamExt;

/// What is read of one file and of all files of one form. The notebook itself
/// takes less; reading beyond its limit is what lets it say so. Thirty photos of
/// a good camera fit.
const FILE: usize = 64 * MIB;
const ALL_FILES: usize = 512 * MIB;
/// All texts of one form.
const TEXTS: usize = 2 * MIB;
const MIB: usize = 1024 * 1024;

pub struct Upload {
    pub typed: Typed,
    pub files: Vec<UploadedFile>,
    /// Files that were not taken: field and sentence.
    refused: Vec<(String, String)>,
}

pub struct UploadedFile {
    pub field: String,
    /// As the device calls it.
    pub name: String,
    content: TempFile,
}

/// Reads the form to its end, whatever is in it.
pub async fn read(request: &HttpRequest, mut body: Multipart) -> Result<Upload, WebError> {
    let mut upload = Upload {
        typed: Typed::default(),
        files: Vec::new(),
        refused: Vec::new(),
    };
    let mut files_left = ALL_FILES;
    let mut texts_left = TEXTS;
    let mut texts_fit = true;
    while let Some(mut field) = body.try_next().await.map_err(broken_off)? {
        let Some(name) = field.name().map(str::to_string) else {
            continue;
        };
        let disposition = field.content_disposition();
        match disposition.and_then(|d| d.get_filename()).map(file_name) {
            None => match field.bytes(texts_left).await {
                Ok(bytes) => {
                    let bytes = bytes.map_err(broken_off)?;
                    texts_left -= bytes.len();
                    upload.typed.add(&name, String::from_utf8_lossy(&bytes));
                }
                // Read to its end first: an answer in the middle of a form does not reach the browser.
                Err(_) => texts_fit = false,
            },
            Some(file_name) => {
                let most = FILE.min(files_left);
                match TempFile::read_field(request, field, &mut Limits::new(most, 0)).await {
                    // A file field nothing was chosen in.
                    Ok(content) if content.size == 0 && file_name.is_empty() => {}
                    Ok(content) => {
                        files_left -= content.size;
                        upload.files.push(UploadedFile {
                            field: name,
                            name: file_name,
                            content,
                        });
                    }
                    // The rest of the file is read past by the next round.
                    Err(MultipartError::Payload(PayloadError::Overflow)) => {
                        let sentence = if most < FILE {
                            format!(
                                "“{file_name}” was not taken: one form carries 512 MiB of photos. Add it in a second go."
                            )
                        } else {
                            format!(
                                "“{file_name}” is larger than 64 MiB. Take the photo anew or make it smaller, then add it again."
                            )
                        };
                        upload.refused.push((name, sentence));
                    }
                    Err(error) => return Err(broken_off(error)),
                }
            }
        }
    }
    if texts_fit {
        Ok(upload)
    } else {
        Err(WebError::Refused(
            "The form could not be read: its texts are larger than 2 MiB.".into(),
        ))
    }
}

fn broken_off(error: MultipartError) -> WebError {
    tracing::info!(%error, "unreadable upload");
    WebError::Refused("The form did not arrive whole. Check the connection and send it again.".into())
}

/// The last part of a path, short enough for a sentence.
fn file_name(sent: &str) -> String {
    let last = sent.rsplit(['/', '\\']).next().unwrap_or("");
    clean_line(last).chars().take(60).collect()
}

impl Upload {
    /// The file of one field: its name and content, or a sentence about what was sent.
    /// Nothing where none was chosen.
    pub fn take_file(&mut self, field: &str, most: usize) -> Option<Result<(String, Vec<u8>), String>> {
        let large = |name: &str| format!("“{name}” is larger than {} MiB. Choose a smaller file.", most / MIB);
        if self.refused.iter().any(|(f, _)| f == field) {
            return Some(Err(large("The file")));
        }
        let at = self.files.iter().position(|f| f.field == field)?;
        let file = self.files.swap_remove(at);
        if file.content.size > most {
            return Some(Err(large(&file.name)));
        }
        Some(match std::fs::read(file.content.file.path()) {
            Ok(bytes) => Ok((file.name, bytes)),
            Err(error) => {
                tracing::warn!(%error, "an uploaded file could not be read");
                Err("The file could not be read. Choose it once more.".into())
            }
        })
    }

    /// Keeps the photos of one field in the notebook. What was refused, here
    /// or while reading, is told in sentences.
    pub async fn keep_photos(&mut self, app: &App, field: &str) -> Result<(Vec<PhotoHash>, Vec<String>), WebError> {
        let mut sentences: Vec<String> = self
            .refused
            .iter()
            .filter(|(f, _)| f == field)
            .map(|(_, s)| s.clone())
            .collect();
        let (files, others) = std::mem::take(&mut self.files)
            .into_iter()
            .partition(|f| f.field == field);
        self.files = others;
        let files: Vec<UploadedFile> = files;
        let (kept, refused) = app
            .ask(move |n: &Notebook| {
                let (mut kept, mut refused) = (Vec::new(), Vec::new());
                for file in &files {
                    match n.add_photo(file.content.file.path()) {
                        Ok(photo) if kept.contains(&photo.hash) => {}
                        Ok(photo) => kept.push(photo.hash),
                        Err(AddPhotoError::Notebook(error)) => return Err(error),
                        Err(error) => refused.push(format!("“{}”: {error}", file.name)),
                    }
                }
                Ok((kept, refused))
            })
            .await?;
        sentences.extend(refused);
        Ok((kept, sentences))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use actix_multipart::test::TestFormField;
    use actix_multipart::test::create_form_data_payload_and_headers_from_fields;
    use actix_web::FromRequest;
    use actix_web::test::TestRequest;

    async fn uploaded(fields: Vec<TestFormField<'static>>) -> Upload {
        let (body, headers) = create_form_data_payload_and_headers_from_fields(fields);
        let mut request = TestRequest::post();
        for header in headers {
            request = request.insert_header(header);
        }
        let (request, mut payload) = request.set_payload(body).to_http_parts();
        let multipart = Multipart::from_request(&request, &mut payload)
            .await
            .expect("multipart");
        read(&request, multipart).await.expect("read")
    }

    #[actix_web::test]
    async fn a_file_too_large_costs_no_other() {
        let big = vec![7_u8; FILE + 1];
        let upload = uploaded(vec![
            TestFormField::new("text", "hem pinned"),
            TestFormField::new("photos", big).filename("big.jpg"),
            TestFormField::new("photos", vec![1_u8, 2, 3]).filename("pictures/small.jpg"),
            TestFormField::new("photos", "").filename(""),
            TestFormField::new("id", "abc"),
        ])
        .await;
        assert_eq!(upload.typed.get("text"), "hem pinned");
        assert_eq!(upload.typed.get("id"), "abc");
        let names: Vec<&str> = upload.files.iter().map(|f| f.name.as_str()).collect();
        assert_eq!(names, ["small.jpg"]);
        assert_eq!(upload.refused.len(), 1);
        assert!(upload.refused[0].1.contains("“big.jpg” is larger than 64 MiB"));
    }
}
