//! Measures against added head mass.
