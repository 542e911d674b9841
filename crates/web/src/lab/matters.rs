//! What matters most, and the story of the head's mass.

use super::Answer;
use super::ask::{Ask, Progress};

pub(super) fn matters(ask: Ask, _progress: &Progress) -> Answer {
    ask.finish(None)
}

pub(super) fn head_story(ask: Ask, _progress: &Progress) -> Answer {
    ask.finish(None)
}
