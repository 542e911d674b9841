//! What a measure depends on most.
