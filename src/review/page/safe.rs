//! Text from anywhere, made safe for the page.

use crate::drawing::escape;
use crate::report::visible::visible;

/// A text from anywhere, as text of the page.
pub(super) fn safe(text: &str) -> String {
    escape(&visible(text))
}
