//! The packages that are built of `kickstill-web`.

/// One package: a feature of the crate with its bindings.
pub(crate) struct Package {
    /// Name of its files.
    pub(crate) name: &'static str,
    /// The features it is built with, and no others.
    pub(crate) features: &'static str,
    /// Its own profile of the workspace. Each has a folder of its own under cargo's target: both
    /// are the same crate, and cargo keeps but one of its wasm files in a folder.
    pub(crate) profile: &'static str,
}

/// What the page loads first, what its workers load, and both in one for the page that is one file.
pub(crate) const PACKAGES: [Package; 3] = [
    Package {
        name: "kickstill",
        features: "board",
        profile: "page",
    },
    Package {
        name: "lab",
        features: "lab",
        profile: "lab",
    },
    Package {
        name: "whole",
        features: "board,lab",
        profile: "whole",
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
