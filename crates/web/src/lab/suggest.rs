//! Suggested settings.

use super::Answer;
use super::ask::{Ask, Progress};

pub(super) fn suggest(ask: Ask, _progress: &Progress) -> Answer {
    ask.finish(None)
}
