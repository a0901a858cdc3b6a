//! How the few prompts that `dialoguer` draws look: a word, an angle bracket, the text.

use std::fmt;

use dialoguer::theme::Theme;

use crate::report::visible::visible;

/// Plain prompts without marks or color.
pub(super) struct Plain;

impl Theme for Plain {
    fn format_input_prompt(
        &self,
        f: &mut dyn fmt::Write,
        prompt: &str,
        _default: Option<&str>,
    ) -> fmt::Result {
        write!(f, "{} > ", visible(prompt))
    }

    fn format_input_prompt_selection(
        &self,
        f: &mut dyn fmt::Write,
        prompt: &str,
        chosen: &str,
    ) -> fmt::Result {
        write!(f, "{} > {}", visible(prompt), visible(chosen))
    }
}
