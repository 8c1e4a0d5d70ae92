//! Seeded chance: the same vocabulary always makes the same model.

/// The `splitmix64` generator.
#[derive(Clone, Debug)]
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// 0 up to, not including, 1.
    pub(super) fn part(&mut self) -> f64 {
        f64::from((self.next() >> 32) as u32) / 4_294_967_296.0
    }

    /// True so many times in a hundred.
    pub(super) fn in_100(&mut self, times: u32) -> bool {
        self.below(100) < times as usize
    }

    /// 0 up to, not including, `count`.
    pub(super) fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// `from` up to and including `to`.
    pub(super) fn between(&mut self, from: usize, to: usize) -> usize {
        from + self.below(to - from + 1)
    }

    pub(super) fn one_of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }

    /// One of some things, by their weights.
    pub(super) fn weighed<T: Copy>(&mut self, list: &[(u32, T)]) -> T {
        let mut left = self.below(list.iter().map(|l| l.0 as usize).sum());
        for (weight, thing) in list {
            if left < *weight as usize {
                return *thing;
            }
            left -= *weight as usize;
        }
        list[list.len() - 1].1
    }
}
