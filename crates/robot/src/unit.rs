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

const fn spelt(symbol: &'static str, si: f64) -> Spelling {
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
    /// Turning speed of motors [rad/s], shown in revolutions per minute.
    RevolutionsPerMinute,
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
    /// Electric charge [A·s].
    AmpereSecond,
    /// Cross-section [m²]; wire may also be typed by its gauge, see [`Unit::parse`].
    SquareMetre,
    /// Temperature [°C]; files hold degrees Celsius too.
    Celsius,
    /// Thermal resistance [K/W].
    KelvinPerWatt,
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
            Unit::One => const { &[spelt("", 1.0)] },
            Unit::Count => const { &[spelt("", 1.0)] },
            Unit::Metre => {
                const {
                    &[
                        spelt("mm", 1e-3),
                        spelt("cm", 1e-2),
                        spelt("in", INCH),
                        spelt("ft", 12.0 * INCH),
                        spelt("m", 1.0),
                    ]
                }
            }
            Unit::Kilogram => {
                const {
                    &[
                        spelt("kg", 1.0),
                        spelt("g", 1e-3),
                        spelt("lb", LB),
                        spelt("oz", LB / 16.0),
                        spelt("kg", 1.0),
                    ]
                }
            }
            Unit::KilogramSquareMetre => const { &[spelt("kg·m²", 1.0), spelt("kgm2", 1.0)] },
            Unit::Radian => const { &[spelt("°", DEG), spelt("deg", DEG), spelt("rad", 1.0)] },
            Unit::RadianPerSecond => {
                const {
                    &[
                        spelt("°/s", DEG),
                        spelt("deg/s", DEG),
                        spelt("rpm", 6.0 * DEG),
                        spelt("rad/s", 1.0),
                    ]
                }
            }
            Unit::RevolutionsPerMinute => const { &[spelt("rpm", 6.0 * DEG), spelt("rad/s", 1.0)] },
            Unit::Second => const { &[spelt("s", 1.0), spelt("ms", 1e-3), spelt("s", 1.0)] },
            Unit::Hertz => const { &[spelt("Hz", 1.0)] },
            Unit::MetrePerSecond => {
                const {
                    &[
                        spelt("m/s", 1.0),
                        spelt("km/h", 1.0 / 3.6),
                        spelt("ft/s", 12.0 * INCH),
                        spelt("m/s", 1.0),
                    ]
                }
            }
            Unit::MetrePerSquareSecond => const { &[spelt("m/s²", 1.0), spelt("m/s2", 1.0)] },
            Unit::Newton => {
                const {
                    &[
                        spelt("N", 1.0),
                        spelt("lbf", LB * 9.806_65),
                        spelt("N", 1.0),
                    ]
                }
            }
            Unit::NewtonSecond => const { &[spelt("N·s", 1.0), spelt("Ns", 1.0)] },
            Unit::NewtonMetre => {
                const {
                    &[
                        spelt("N·m", 1.0),
                        spelt("mN·m", 1e-3),
                        spelt("kgf·cm", 0.098_066_5),
                        spelt("kg·cm", 0.098_066_5),
                        spelt("ozf·in", LB / 16.0 * 9.806_65 * INCH),
                        spelt("Nm", 1.0),
                    ]
                }
            }
            Unit::NewtonMetrePerRadian => const { &[spelt("N·m/rad", 1.0), spelt("Nm/rad", 1.0)] },
            Unit::NewtonMetreSecondPerRadian => {
                const { &[spelt("N·m·s/rad", 1.0), spelt("Nms/rad", 1.0)] }
            }
            Unit::NewtonMetrePerAmpere => const { &[spelt("N·m/A", 1.0), spelt("Nm/A", 1.0)] },
            Unit::Ohm => const { &[spelt("Ω", 1.0), spelt("mΩ", 1e-3), spelt("ohm", 1.0)] },
            Unit::Volt => const { &[spelt("V", 1.0)] },
            Unit::Ampere => const { &[spelt("A", 1.0), spelt("mA", 1e-3), spelt("A", 1.0)] },
            Unit::Watt => const { &[spelt("W", 1.0)] },
            Unit::Joule => const { &[spelt("J", 1.0), spelt("Wh", 3600.0), spelt("J", 1.0)] },
            Unit::WattPerNewtonMetre => const { &[spelt("W/(N·m)", 1.0), spelt("W/Nm", 1.0)] },
            Unit::AmpereSecond => {
                const {
                    &[
                        spelt("A·h", 3600.0),
                        spelt("mA·h", 3.6),
                        spelt("C", 1.0),
                        spelt("A·s", 1.0),
                    ]
                }
            }
            Unit::SquareMetre => {
                const { &[spelt("mm²", 1e-6), spelt("cm²", 1e-4), spelt("m²", 1.0)] }
            }
            Unit::Celsius => {
                const {
                    &[
                        spelt("°C", 1.0),
                        spelt("degC", 1.0),
                        spelt("C", 1.0),
                        spelt("°C", 1.0),
                    ]
                }
            }
            Unit::KelvinPerWatt => {
                const { &[spelt("K/W", 1.0), spelt("°C/W", 1.0), spelt("K/W", 1.0)] }
            }
            Unit::RadianPerRadian => {
                const {
                    &[
                        spelt("°/°", 1.0),
                        spelt("deg/deg", 1.0),
                        spelt("rad/rad", 1.0),
                    ]
                }
            }
            Unit::RadianSecondPerRadian => {
                const {
                    &[
                        spelt("°·s/°", 1.0),
                        spelt("deg s/deg", 1.0),
                        spelt("rad s/rad", 1.0),
                    ]
                }
            }
            Unit::PerSecond => const { &[spelt("1/s", 1.0)] },
            Unit::DutyPerRadian => {
                const {
                    &[
                        spelt("%/°", 0.01 / DEG),
                        spelt("%/deg", 0.01 / DEG),
                        spelt("1/rad", 1.0),
                    ]
                }
            }
            Unit::DutySecondPerRadian => {
                const {
                    &[
                        spelt("%·s/°", 0.01 / DEG),
                        spelt("%s/deg", 0.01 / DEG),
                        spelt("s/rad", 1.0),
                    ]
                }
            }
            Unit::Duty | Unit::Share => const { &[spelt("%", 0.01), spelt("", 1.0)] },
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
            Unit::RadianPerSecond | Unit::RevolutionsPerMinute => "rad/s",
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
            Unit::AmpereSecond => "A·s",
            Unit::SquareMetre => "m²",
            Unit::Celsius => "°C",
            Unit::KelvinPerWatt => "K/W",
            Unit::PerSecond => "1/s",
            Unit::DutyPerRadian => "1/rad",
            Unit::DutySecondPerRadian => "s/rad",
        }
    }
}
