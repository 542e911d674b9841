//! Settings suggested for a robot: from the linear optimum to a search on the whole simulation.
#![forbid(unsafe_code)]
