//! One form for what can be written in several (Unicode's NFKC): `ＲＨ` is "RH", and `½` "1⁄2".

#[cfg(not(target_family = "wasm"))]
pub(super) fn composed(raw: &str) -> String {
    use unicode_normalization::UnicodeNormalization;
    raw.nfkc().collect()
}

#[cfg(target_family = "wasm")]
pub use host::compose_by;
#[cfg(target_family = "wasm")]
pub(super) use host::composed;

/// A browser has Unicode's tables already: they would be a fifteenth of what a phone has to load.
#[cfg(target_family = "wasm")]
mod host {
    use std::sync::OnceLock;

    static HOST: OnceLock<fn(&str) -> String> = OnceLock::new();

    /// Has words composed by what runs the program from now on; without it they are compared as they are written.
    pub fn compose_by(host: fn(&str) -> String) {
        HOST.get_or_init(|| host);
    }

    pub(in crate::words) fn composed(raw: &str) -> String {
        HOST.get().map_or_else(|| raw.to_owned(), |composed| composed(raw))
    }
}
