//! Finding the photographs of a case, for a page that shows them.

use std::path::Path;

use crate::files::{self, Limit};
use crate::report::{PhotographShown, picture};

/// The largest photograph read.
const LARGEST: Limit = Limit {
    what: "a photograph",
    bytes: 32 * 1024 * 1024,
};
/// Pictures shown on a page; the others are named. With 720 pixels each, some 100 kB, this keeps a page below 3 MB.
const MOST: usize = 20;

/// Fits each photograph with its small picture, or with the reason why there is none. Paths that do not begin at the
/// root begin at the folder of the case file.
pub(super) fn find(photographs: &mut [PhotographShown], case: &Path) {
    let folder = case.parent().unwrap_or(Path::new("."));
    for (number, photograph) in photographs.iter_mut().enumerate() {
        photograph.picture = Some(if number < MOST {
            one(photograph, folder)
        } else {
            Err(format!("only the first {MOST} photographs are"))
        });
    }
}

fn one(photograph: &PhotographShown, folder: &Path) -> Result<Vec<u8>, String> {
    let path = folder.join(&photograph.path);
    if !path.exists() {
        return Err("it is not where it was".to_owned());
    }
    let bytes = files::read(&path, LARGEST).map_err(|error| error.to_string())?;
    if files::sha256(&bytes) != photograph.sha256.to_ascii_lowercase() {
        return Err("the file is not the one that was attached: its SHA-256 is another".to_owned());
    }
    picture::small(&bytes)
}
