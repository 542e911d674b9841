//! A map in letters, for a terminal.

use kickstill_number::Within;
use kickstill_rig::OutcomeClass;

use super::told::{ends, here};
use super::{Found, words};

/// Most letters of a line.
const WIDEST: usize = 72;

/// Letter of a class; what settled has a figure.
pub(super) fn letter(class: OutcomeClass) -> Option<char> {
    match class {
        OutcomeClass::Settled => None,
        OutcomeClass::RestsLeaning => Some('L'),
        OutcomeClass::Sways => Some('S'),
        OutcomeClass::OutOfControl => Some('O'),
        OutcomeClass::HeadLost => Some('H'),
        OutcomeClass::Hop => Some('J'),
        OutcomeClass::BrownOut => Some('B'),
        OutcomeClass::Diverged => Some('D'),
        OutcomeClass::StillMoving => Some('M'),
    }
}

/// Rows from the top; what settled as a figure from 0, the least value on the map, to 9, the greatest; the robot as it
/// stands in brackets. Nothing where it is wider than a line.
pub(super) fn picture(found: &Found) -> String {
    let (nx, ny) = (found.map.x.count(), found.map.y.count());
    if nx > WIDEST {
        return String::new();
    }
    let range = ends(found).and_then(|(a, b)| found.cells[a].value.zip(found.cells[b].value));
    let sign = |cell: usize| {
        let one = &found.cells[cell];
        letter(one.class).unwrap_or_else(|| match (one.value, range) {
            (Some(v), Some((least, most))) if most > least => {
                let tenth = (10.0 * (v - least) / (most - least))
                    .floor()
                    .within(0.0, 9.0);
                // The cast is exact: a whole number from 0 to 9.
                char::from_digit(tenth as u32, 10).unwrap_or('0')
            }
            (Some(_), _) => '0',
            (None, _) => '.',
        })
    };
    let stands = here(found);
    let (top, low) = (words(&found.map.y, ny - 1), words(&found.map.y, 0));
    let margin = top.chars().count().max(low.chars().count());
    let mut out = String::new();
    for y in (0..ny).rev() {
        let label = match y {
            0 => low.as_str(),
            y if y == ny - 1 => top.as_str(),
            _ => "",
        };
        let mut line = format!("{label:>margin$} ");
        for x in 0..nx {
            match stands {
                Some((hx, hy)) if hy == y && (hx == x || hx + 1 == x) => {
                    line.push(if hx == x { '[' } else { ']' });
                }
                _ => line.push(' '),
            }
            line.push(sign(y * nx + x));
        }
        if stands.is_some_and(|(hx, hy)| hy == y && hx + 1 == nx) {
            line.push(']');
        }
        out += line.trim_end();
        out.push('\n');
    }
    let (from, to) = (words(&found.map.x, 0), words(&found.map.x, nx - 1));
    let room = (2 * nx).saturating_sub(from.chars().count());
    out + &format!("{:margin$}  {from}{to:>room$}\n", "")
}
