//! The packages that are built of `kickstill-web`.

/// One package: a feature of the crate with its bindings.
pub(crate) struct Package {
    /// Name of its files.
    pub(crate) name: &'static str,
    /// The feature it is built with, alone.
    pub(crate) feature: &'static str,
    /// Its own profile of the workspace. Each has a folder of its own under cargo's target: both
    /// are the same crate, and cargo keeps but one of its wasm files in a folder.
    pub(crate) profile: &'static str,
}

/// What the page loads first, and what its workers load.
pub(crate) const PACKAGES: [Package; 2] = [
    Package {
        name: "kickstill",
        feature: "board",
        profile: "page",
    },
    Package {
        name: "lab",
        feature: "lab",
        profile: "lab",
    },
];

impl Package {
    /// The wasm file.
    pub(crate) fn wasm(&self) -> String {
        format!("{}_bg.wasm", self.name)
    }

    /// Files that a complete package holds.
    pub(crate) fn files(&self) -> [String; 4] {
        [
            format!("{}.js", self.name),
            format!("{}.d.ts", self.name),
            format!("{}_bg.wasm.d.ts", self.name),
            self.wasm(),
        ]
    }
}
