//! Work on several threads, with what comes of it in the order of what went in.

/// The threads of a command. They live as long as it does: to begin new ones for each block of lines took a third of
/// what a second one saves.
#[derive(Debug, Default)]
pub struct Jobs {
    #[cfg(not(target_family = "wasm"))]
    pool: Option<rayon::ThreadPool>,
}

#[cfg(not(target_family = "wasm"))]
impl Jobs {
    /// So many threads; all is done in turn on the caller's own with fewer than two, or where none can be had.
    pub fn new(jobs: usize) -> Self {
        let threads = rayon::ThreadPoolBuilder::new().num_threads(jobs);
        Self { pool: if jobs < 2 { None } else { threads.build().ok() } }
    }

    /// How many threads there are.
    pub fn count(&self) -> usize {
        self.pool.as_ref().map_or(1, rayon::ThreadPool::current_num_threads)
    }

    /// Maps the items; their order stays.
    pub fn in_order<T: Send, U: Send>(&self, items: Vec<T>, f: impl Fn(T) -> U + Sync + Send) -> Vec<U> {
        use rayon::prelude::*;
        match &self.pool {
            Some(pool) => pool.install(|| items.into_par_iter().with_min_len(FEW).map(f).collect()),
            None => items.into_iter().map(f).collect(),
        }
    }

    /// Does `here` on the caller's own thread, and `ahead` beside it where there are threads, else after it.
    ///
    /// # Panics
    /// Where one of the two does.
    pub fn beside<T, U: Send>(&self, here: impl FnOnce() -> T, ahead: impl FnOnce() -> U + Send) -> (T, U) {
        let Some(pool) = &self.pool else { return (here(), ahead()) };
        let mut out = None;
        let done = pool.in_place_scope(|scope| {
            scope.spawn(|_| out = Some(ahead()));
            here()
        });
        (done, out.expect("a scope ends when all in it has"))
    }
}

/// Fewer lines than these are not worth another thread.
#[cfg(not(target_family = "wasm"))]
const FEW: usize = 8;

/// The browser has one thread.
#[cfg(target_family = "wasm")]
impl Jobs {
    pub fn new(_: usize) -> Self {
        Self::default()
    }

    pub fn count(&self) -> usize {
        1
    }

    pub fn in_order<T, U>(&self, items: Vec<T>, f: impl Fn(T) -> U) -> Vec<U> {
        items.into_iter().map(f).collect()
    }

    pub fn beside<T, U>(&self, here: impl FnOnce() -> T, ahead: impl FnOnce() -> U) -> (T, U) {
        (here(), ahead())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_stays_with_any_number_of_threads() {
        let want: Vec<usize> = (0..1000).map(|i| i * i).collect();
        for jobs in [0, 1, 2, 3] {
            let jobs = Jobs::new(jobs);
            assert_eq!(jobs.in_order((0..1000).collect(), |i: usize| i * i), want);
            let (here, ahead) = jobs.beside(|| 1, || jobs.in_order(vec![1, 2], |i| i + 1));
            assert_eq!((here, ahead), (1, vec![2, 3]));
        }
    }
}
