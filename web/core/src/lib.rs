//! The library for a page: three functions that JavaScript calls, JSON in and JSON out.
//!
//! `alloc` gives room for a request, `call` takes it and gives an answer, `free` takes the answer's room back. What
//! can be asked is in [`request`]; nothing here knows the store, the clock or the screen.

mod card;
mod day;
mod herd;
#[cfg(target_family = "wasm")]
mod host;
mod keep;
mod ledger;
mod look;
mod request;
mod state;

use std::cell::RefCell;

use state::State;

thread_local! {
    static STATE: RefCell<State> = RefCell::new(State::new());
}

/// Room for `length` bytes; the caller fills it and hands it to [`call`].
#[unsafe(no_mangle)]
pub extern "C" fn alloc(length: usize) -> *mut u8 {
    Box::leak(vec![0; length].into_boxed_slice()).as_mut_ptr()
}

/// Takes back what [`alloc`] or [`call`] gave.
///
/// # Safety
/// `at` and `length` are those of one room that was given and not taken back yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn free(at: *mut u8, length: usize) {
    // SAFETY: by this function's own condition, the room is a boxed slice that nobody else has.
    drop(unsafe { Box::from_raw(std::ptr::slice_from_raw_parts_mut(at, length)) });
}

/// Answers the request in a room of [`alloc`], which it takes back; gives the answer's address in the upper half and
/// its length in the lower. The answer is for the caller to [`free`].
///
/// # Safety
/// As [`free`].
#[unsafe(no_mangle)]
pub unsafe extern "C" fn call(at: *mut u8, length: usize) -> u64 {
    // SAFETY: by this function's own condition, the room is a boxed slice that nobody else has.
    let request = unsafe { Box::from_raw(std::ptr::slice_from_raw_parts_mut(at, length)) };
    let answer = STATE.with_borrow_mut(|state| request::answer(state, &request)).into_boxed_slice();
    let length = answer.len() as u64;
    let at = Box::leak(answer).as_mut_ptr() as usize as u64;
    at << 32 | length
}
