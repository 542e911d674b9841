//! Units: SI inside, what people read at the edge.

/// One unit a person may type, with its size in the SI unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spelling {
    /// As typed and shown.
    pub symbol: &'static str,
    /// SI value of one of it.
    pub si: f64,
}

const DEG: f64 = core::f64::consts::PI / 180.0;
const LB: f64 = 0.453_592_37;
const INCH: f64 = 0.025_4;

const fn s(symbol: &'static str, si: f64) -> Spelling {
    Spelling { symbol, si }
}

/// Unit of a knob or measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// No unit.
    One,
    /// A whole number of things.
    Count,
    /// Length [m].
    Metre,
    /// Mass [kg].
    Kilogram,
    /// Moment of inertia [kg·m²].
    KilogramSquareMetre,
    /// Angle [rad].
    Radian,
    /// Turning speed [rad/s].
    RadianPerSecond,
    /// Time [s].
    Second,
    /// Frequency [Hz].
    Hertz,
    /// Speed [m/s].
    MetrePerSecond,
    /// Acceleration [m/s²].
    MetrePerSquareSecond,
    /// Force [N].
    Newton,
    /// Impulse [N·s].
    NewtonSecond,
    /// Torque [N·m].
    NewtonMetre,
    /// Turning stiffness [N·m/rad].
    NewtonMetrePerRadian,
    /// Turning damping [N·m·s/rad].
    NewtonMetreSecondPerRadian,
    /// Motor constant [N·m/A].
    NewtonMetrePerAmpere,
    /// Resistance [Ω].
    Ohm,
    /// Voltage [V].
    Volt,
    /// Current [A].
    Ampere,
    /// Power [W].
    Watt,
    /// Energy [J].
    Joule,
    /// Power per torque [W/(N·m)].
    WattPerNewtonMetre,
    /// Angle per angle.
    RadianPerRadian,
    /// Angle per turning speed [s].
    RadianSecondPerRadian,
    /// Rate per angle [1/s].
    PerSecond,
    /// Duty per angle [1/rad].
    DutyPerRadian,
    /// Duty per turning speed [s/rad].
    DutySecondPerRadian,
    /// Duty (−1 … 1).
    Duty,
    /// A share (0 … 1), shown in per cent.
    Share,
}

impl Unit {
    /// Spellings a person may type; the first is the one shown, the last the SI unit's own.
    #[must_use]
    pub fn spellings(self) -> &'static [Spelling] {
        match self {
            Unit::One => const { &[s("", 1.0)] },
            Unit::Count => const { &[s("", 1.0)] },
            Unit::Metre => {
                const {
                    &[
                        s("mm", 1e-3),
                        s("cm", 1e-2),
                        s("in", INCH),
                        s("ft", 12.0 * INCH),
                        s("m", 1.0),
                    ]
                }
            }
            Unit::Kilogram => {
                const {
                    &[
                        s("kg", 1.0),
                        s("g", 1e-3),
                        s("lb", LB),
                        s("oz", LB / 16.0),
                        s("kg", 1.0),
                    ]
                }
            }
            Unit::KilogramSquareMetre => const { &[s("kg·m²", 1.0), s("kgm2", 1.0)] },
            Unit::Radian => const { &[s("°", DEG), s("deg", DEG), s("rad", 1.0)] },
            Unit::RadianPerSecond => {
                const {
                    &[
                        s("°/s", DEG),
                        s("deg/s", DEG),
                        s("rpm", 6.0 * DEG),
                        s("rad/s", 1.0),
                    ]
                }
            }
            Unit::Second => const { &[s("s", 1.0), s("ms", 1e-3), s("s", 1.0)] },
            Unit::Hertz => const { &[s("Hz", 1.0)] },
            Unit::MetrePerSecond => {
                const {
                    &[
                        s("m/s", 1.0),
                        s("km/h", 1.0 / 3.6),
                        s("ft/s", 12.0 * INCH),
                        s("m/s", 1.0),
                    ]
                }
            }
            Unit::MetrePerSquareSecond => const { &[s("m/s²", 1.0), s("m/s2", 1.0)] },
            Unit::Newton => const { &[s("N", 1.0), s("lbf", LB * 9.806_65), s("N", 1.0)] },
            Unit::NewtonSecond => const { &[s("N·s", 1.0), s("Ns", 1.0)] },
            Unit::NewtonMetre => const { &[s("N·m", 1.0), s("Nm", 1.0)] },
            Unit::NewtonMetrePerRadian => const { &[s("N·m/rad", 1.0), s("Nm/rad", 1.0)] },
            Unit::NewtonMetreSecondPerRadian => const { &[s("N·m·s/rad", 1.0), s("Nms/rad", 1.0)] },
            Unit::NewtonMetrePerAmpere => const { &[s("N·m/A", 1.0), s("Nm/A", 1.0)] },
            Unit::Ohm => const { &[s("Ω", 1.0), s("mΩ", 1e-3), s("ohm", 1.0)] },
            Unit::Volt => const { &[s("V", 1.0)] },
            Unit::Ampere => const { &[s("A", 1.0), s("mA", 1e-3), s("A", 1.0)] },
            Unit::Watt => const { &[s("W", 1.0)] },
            Unit::Joule => const { &[s("J", 1.0), s("Wh", 3600.0), s("J", 1.0)] },
            Unit::WattPerNewtonMetre => const { &[s("W/(N·m)", 1.0), s("W/Nm", 1.0)] },
            Unit::RadianPerRadian => {
                const { &[s("°/°", 1.0), s("deg/deg", 1.0), s("rad/rad", 1.0)] }
            }
            Unit::RadianSecondPerRadian => {
                const { &[s("°·s/°", 1.0), s("deg s/deg", 1.0), s("rad s/rad", 1.0)] }
            }
            Unit::PerSecond => const { &[s("1/s", 1.0)] },
            Unit::DutyPerRadian => {
                const {
                    &[
                        s("%/°", 0.01 / DEG),
                        s("%/deg", 0.01 / DEG),
                        s("1/rad", 1.0),
                    ]
                }
            }
            Unit::DutySecondPerRadian => {
                const {
                    &[
                        s("%·s/°", 0.01 / DEG),
                        s("%s/deg", 0.01 / DEG),
                        s("s/rad", 1.0),
                    ]
                }
            }
            Unit::Duty | Unit::Share => const { &[s("%", 0.01), s("", 1.0)] },
        }
    }

    /// The unit shown to people.
    #[must_use]
    pub fn shown(self) -> Spelling {
        self.spellings()[0]
    }

    /// Symbol of the SI unit, in which files and tables are written.
    #[must_use]
    pub fn si_symbol(self) -> &'static str {
        match self {
            Unit::One | Unit::Count | Unit::RadianPerRadian | Unit::Duty | Unit::Share => "1",
            Unit::Metre => "m",
            Unit::Kilogram => "kg",
            Unit::KilogramSquareMetre => "kg·m²",
            Unit::Radian => "rad",
            Unit::RadianPerSecond => "rad/s",
            Unit::Second | Unit::RadianSecondPerRadian => "s",
            Unit::Hertz => "Hz",
            Unit::MetrePerSecond => "m/s",
            Unit::MetrePerSquareSecond => "m/s²",
            Unit::Newton => "N",
            Unit::NewtonSecond => "N·s",
            Unit::NewtonMetre => "N·m",
            Unit::NewtonMetrePerRadian => "N·m/rad",
            Unit::NewtonMetreSecondPerRadian => "N·m·s/rad",
            Unit::NewtonMetrePerAmpere => "N·m/A",
            Unit::Ohm => "Ω",
            Unit::Volt => "V",
            Unit::Ampere => "A",
            Unit::Watt => "W",
            Unit::Joule => "J",
            Unit::WattPerNewtonMetre => "W/(N·m)",
            Unit::PerSecond => "1/s",
            Unit::DutyPerRadian => "1/rad",
            Unit::DutySecondPerRadian => "s/rad",
        }
    }
}
