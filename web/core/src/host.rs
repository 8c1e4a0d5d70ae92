//! What the page does for the core.

#[link(wasm_import_module = "page")]
unsafe extern "C" {
    /// NFKC of a text in UTF-8: as [`crate::call`], its address in the upper half and its length in the lower, in a
    /// room of [`crate::alloc`].
    fn composed(at: *const u8, length: usize) -> u64;
}

/// One form for what can be written in several: browsers have Unicode's tables.
pub(crate) fn compose(text: &str) -> String {
    // SAFETY: the page only reads these bytes, and is done with them when it gives its answer.
    let packed = unsafe { composed(text.as_ptr(), text.len()) };
    let (at, length) = ((packed >> 32) as usize as *mut u8, packed as u32 as usize);
    // SAFETY: the page gives a whole room of `alloc`, which nobody else has.
    let bytes = unsafe { Box::from_raw(std::ptr::slice_from_raw_parts_mut(at, length)) };
    String::from_utf8(bytes.into_vec()).unwrap_or_else(|_| text.to_owned())
}
