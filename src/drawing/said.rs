//! The one way from text to markup.

use std::borrow::Cow;

use maud::Render;

use crate::report::visible::visible;

/// Text that comes from a case or the knowledge, ready for element content and quoted attributes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Said<'t>(&'t str);

/// Makes text safe: what steers or hides is written out, what XML has no place for is left out, the rest is escaped.
pub(crate) const fn said(text: &str) -> Said<'_> {
    Said(text)
}

impl Render for Said<'_> {
    fn render_to(&self, buffer: &mut String) {
        let shown = visible(self.0);
        let allowed: Cow<'_, str> = if shown.contains(['\u{fffe}', '\u{ffff}']) {
            Cow::Owned(shown.replace(['\u{fffe}', '\u{ffff}'], ""))
        } else {
            shown
        };
        allowed.as_ref().render_to(buffer);
    }
}
