//! Questions that do not fit the screen of a phone-sized terminal.

use unicode_width::UnicodeWidthStr;

use crate::knowledge::fields::keys::test::ASK;
use crate::knowledge::finding::Code;

use super::scope::Scope;

/// Two lines of 60 columns, with a space lost at the break and one kept free for the cursor.
pub(in crate::knowledge) const LONGEST: usize = 118;

pub(super) fn check(scope: &Scope<'_>) {
    for (section, id, ask) in scope.questions() {
        let width = ask.width();
        if width > LONGEST {
            scope.sink.error(
                Code::PromptTooLong,
                scope.documents.key(section, id, ASK),
                format!("the question is {width} columns wide, expected at most {LONGEST}"),
                "ask in two lines of 60 columns; move the rest to `how`, `why` or `find`",
            );
        }
    }
}
