//! The only table of colours: what each role looks like by day, by night and in forced colours.

/// Which palette the sheet is drawn with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Theme {
    /// Ink on paper.
    #[default]
    Day,
    /// Pale line on dark blue-grey.
    Night,
    /// The system's own colours, for `forced-colors` users: CSS system colour words.
    Forced,
}

/// What an item of the drawing means; the palette decides its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Role {
    /// The sheet itself.
    Paper,
    /// What lies around the sheet.
    Desk,
    /// Visible edges and main text.
    Ink,
    /// Secondary text, dimensions' words.
    Muted,
    /// Leaders, marks, rules.
    Faint,
    /// Edges behind something, and axes.
    Hidden,
    /// Hatching of cut material and of the floor.
    Hatch,
    /// Grid lines.
    Grid,
    /// The room inside the shell.
    Interior,
    /// Filling of the carriage.
    Carriage,
    /// Filling of the head.
    Head,
    /// Filling of boxes and rollers.
    Box,
    /// With software.
    WithSoftware,
    /// Without software.
    WithoutSoftware,
    /// Kick and bump.
    Kick,
    /// A limit passed.
    Limit,
    /// Dimension lines.
    Dimension,
    /// Forces.
    Force,
    /// Trail of the head's centre of mass.
    Trail,
    /// The second robot.
    Double,
}

const COUNT: usize = 20;

impl Role {
    /// Every role, in the order of the palette.
    pub const ALL: [Role; COUNT] = [
        Role::Paper,
        Role::Desk,
        Role::Ink,
        Role::Muted,
        Role::Faint,
        Role::Hidden,
        Role::Hatch,
        Role::Grid,
        Role::Interior,
        Role::Carriage,
        Role::Head,
        Role::Box,
        Role::WithSoftware,
        Role::WithoutSoftware,
        Role::Kick,
        Role::Limit,
        Role::Dimension,
        Role::Force,
        Role::Trail,
        Role::Double,
    ];

    /// Roles in which words are written, on [`Role::Paper`] or on a filling.
    pub const TEXT: [Role; 9] = [
        Role::Ink,
        Role::Muted,
        Role::WithSoftware,
        Role::WithoutSoftware,
        Role::Kick,
        Role::Limit,
        Role::Dimension,
        Role::Force,
        Role::Double,
    ];

    /// Name, as used for the page's custom properties.
    #[must_use]
    pub fn name(self) -> &'static str {
        NAMES[self as usize]
    }
}

const NAMES: [&str; COUNT] = [
    "paper",
    "desk",
    "ink",
    "muted",
    "faint",
    "hidden",
    "hatch",
    "grid",
    "interior",
    "carriage",
    "head",
    "box",
    "with-software",
    "without-software",
    "kick",
    "limit",
    "dimension",
    "force",
    "trail",
    "double",
];

/// The colours of one theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    colours: [&'static str; COUNT],
}

impl Palette {
    /// CSS colour of a role.
    #[must_use]
    pub fn colour(&self, role: Role) -> &'static str {
        self.colours[role as usize]
    }

    /// Every role's name with its CSS colour: from this the page's style sheet takes its
    /// custom properties.
    pub fn entries(&self) -> impl Iterator<Item = (&'static str, &'static str)> + '_ {
        Role::ALL
            .iter()
            .map(|role| (role.name(), self.colour(*role)))
    }
}

/// The palette of a theme.
#[must_use]
pub fn palette(theme: Theme) -> &'static Palette {
    match theme {
        Theme::Day => &DAY,
        Theme::Night => &NIGHT,
        Theme::Forced => &FORCED,
    }
}

static DAY: Palette = Palette {
    colours: [
        "#fbf8ef", // paper
        "#f3efe2", // desk
        "#1d354c", // ink
        "#6a614f", // muted
        "#b9b09a", // faint
        "#858b92", // hidden
        "#74889a", // hatch
        "#ebe5d5", // grid
        "#fefbf6", // interior
        "#e7dfca", // carriage
        "#dfe7d6", // head
        "#fdfaf2", // box
        "#1c6d5a", // with-software
        "#964a1d", // without-software
        "#6b3076", // kick
        "#ad1f1c", // limit
        "#6a614f", // dimension
        "#22558c", // force
        "#a8803a", // trail
        "#964a1d", // double
    ],
};

static NIGHT: Palette = Palette {
    colours: [
        "#17232e", // paper
        "#101922", // desk
        "#d9e4ec", // ink
        "#a3b3bf", // muted
        "#5b6e7e", // faint
        "#7f919f", // hidden
        "#6d8597", // hatch
        "#213140", // grid
        "#1b2a37", // interior
        "#334049", // carriage
        "#27413c", // head
        "#1f2e3b", // box
        "#62c9a7", // with-software
        "#e59d66", // without-software
        "#cfa3dd", // kick
        "#ff8a82", // limit
        "#a3b3bf", // dimension
        "#93bff0", // force
        "#d5b470", // trail
        "#e59d66", // double
    ],
};

/// Black ink on white paper, for a printer without colours. Not a theme of the page: it is named by who
/// prints, so that the board's package does not carry it.
pub static INK: Palette = Palette {
    colours: [
        "#ffffff", // paper
        "#ffffff", // desk
        "#000000", // ink
        "#333333", // muted
        "#999999", // faint
        "#666666", // hidden
        "#777777", // hatch
        "#dddddd", // grid
        "#ffffff", // interior
        "#eeeeee", // carriage
        "#f4f4f4", // head
        "#ffffff", // box
        "#000000", // with-software
        "#000000", // without-software
        "#000000", // kick
        "#000000", // limit
        "#333333", // dimension
        "#000000", // force
        "#666666", // trail
        "#333333", // double
    ],
};

static FORCED: Palette = Palette {
    colours: [
        "Canvas",     // paper
        "Canvas",     // desk
        "CanvasText", // ink
        "CanvasText", // muted
        "GrayText",   // faint
        "GrayText",   // hidden
        "GrayText",   // hatch
        "GrayText",   // grid
        "Canvas",     // interior
        "Canvas",     // carriage
        "Canvas",     // head
        "Canvas",     // box
        "LinkText",   // with-software
        "CanvasText", // without-software
        "LinkText",   // kick
        "CanvasText", // limit
        "CanvasText", // dimension
        "CanvasText", // force
        "GrayText",   // trail
        "GrayText",   // double
    ],
};

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast ratio after WCAG 2.2 (W3C Recommendation), definitions
    /// "relative luminance" and "contrast ratio".
    fn luminance(colour: &str) -> f64 {
        let channel = |at: usize| {
            let v = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
            if v <= 0.040_45 {
                v / 12.92
            } else {
                libm::pow((v + 0.055) / 1.055, 2.4)
            }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    }

    fn contrast(a: &str, b: &str) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn every_word_can_be_read_on_every_ground() {
        for theme in [Some(Theme::Day), Some(Theme::Night), None] {
            let palette = theme.map_or(&INK, palette);
            for ground in [Role::Paper, Role::Desk, Role::Interior, Role::Box] {
                for role in Role::TEXT {
                    let ratio = contrast(palette.colour(role), palette.colour(ground));
                    assert!(ratio >= 4.5, "{theme:?} {role:?} on {ground:?}: {ratio:.2}");
                }
            }
            for ground in [Role::Carriage, Role::Head] {
                let ratio = contrast(palette.colour(Role::Ink), palette.colour(ground));
                assert!(ratio >= 4.5, "{theme:?} ink on {ground:?}: {ratio:.2}");
            }
        }
    }

    #[test]
    fn roles_keep_their_places() {
        for (at, role) in Role::ALL.iter().enumerate() {
            assert_eq!(*role as usize, at);
        }
        assert_eq!(Role::WithoutSoftware.name(), "without-software");
        assert_eq!(palette(Theme::Day).entries().count(), COUNT);
    }
}
