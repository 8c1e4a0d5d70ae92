//! Limits of a share: Wilson's score interval (Newcombe 1998, Statistics in Medicine 17:857-872, method 3).

/// The 97.5 % point of the normal distribution.
const Z: f64 = 1.959_963_984_540_054;

/// Lower and upper 95 % limit of `x` out of `n`, as shares; `None` where `n` is 0.
///
/// Cows are taken as independent, which cows of one herd are not quite.
///
/// ```
/// let (low, high) = chutescribe::report::wilson::limits(81, 263).unwrap();
/// assert_eq!(format!("{low:.4} {high:.4}"), "0.2553 0.3662");
/// ```
pub fn limits(x: usize, n: usize) -> Option<(f64, f64)> {
    if n == 0 || x > n {
        return None;
    }
    let (x, n) = (x as f64, n as f64);
    let (p, zz) = (x / n, Z * Z);
    let centre = (p + zz / (2.0 * n)) / (1.0 + zz / n);
    let half = Z * (p * (1.0 - p) / n + zz / (4.0 * n * n)).sqrt() / (1.0 + zz / n);
    Some(((centre - half).max(0.0), (centre + half).min(1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The worked examples of Newcombe 1998, Table I.
    #[test]
    fn the_published_examples() {
        for (x, n, want) in
            [(81, 263, "0.2553 0.3662"), (15, 148, "0.0624 0.1605"), (0, 20, "0.0000 0.1611"), (1, 29, "0.0061 0.1718")]
        {
            let (low, high) = limits(x, n).unwrap();
            assert_eq!(format!("{low:.4} {high:.4}"), want);
        }
        assert_eq!((limits(0, 0), limits(3, 2)), (None, None));
    }
}
