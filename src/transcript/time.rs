//! Times of cues.

use std::fmt;
use std::time::Duration;

/// A time from the start of the recording; written `00:01:07.200`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Offset {
    millis: u64,
}

impl Offset {
    pub fn from_millis(millis: u64) -> Self {
        Self { millis }
    }

    pub fn duration(self) -> Duration {
        Duration::from_millis(self.millis)
    }
}

impl fmt::Display for Offset {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let (seconds, millis) = (self.millis / 1000, self.millis % 1000);
        write!(f, "{:02}:{:02}:{:02}.{millis:03}", seconds / 3600, seconds / 60 % 60, seconds % 60)
    }
}

/// From `00:01:07.200 --> 00:01:09.000`, with settings after it or not.
pub(super) fn timing(line: &str) -> Option<(Offset, Offset)> {
    let (start, end) = line.split_once("-->")?;
    Some((offset(start.trim())?, offset(end.split_whitespace().next()?)?))
}

/// Hours may be left out, and the thousandths stand after a full stop or a comma.
fn offset(text: &str) -> Option<Offset> {
    let number = |digits: &str, lengths: std::ops::RangeInclusive<usize>| {
        let fits = lengths.contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
        fits.then(|| digits.parse::<u64>().ok()).flatten()
    };
    let (clock, thousandths) = text.split_once(['.', ','])?;
    let mut parts = clock.rsplit(':');
    let seconds = number(parts.next()?, 2..=2).filter(|s| *s < 60)?;
    let minutes = number(parts.next()?, 2..=2).filter(|m| *m < 60)?;
    let hours = parts.next().map_or(Some(0), |h| number(h, 1..=4))?;
    let millis = number(thousandths, 3..=3)?;
    parts.next().is_none().then(|| Offset::from_millis(((hours * 60 + minutes) * 60 + seconds) * 1000 + millis))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_come_back_as_they_are_best_written() {
        for (written, best) in [
            ("00:01:07.200", "00:01:07.200"),
            ("01:07,200", "00:01:07.200"),
            ("1:00:00,000", "01:00:00.000"),
            ("123:59:59.999", "123:59:59.999"),
        ] {
            assert_eq!(offset(written).unwrap().to_string(), best);
        }
        for bad in [
            "",
            "07.200",
            "1:7.200",
            "01:67.200",
            "99:01:07",
            "00:01:07.2",
            "00:60:00.000",
            "-1:00.000",
            "a:00:00.000",
            "0:00:00:00.000",
        ] {
            assert_eq!(offset(bad), None, "{bad}");
        }
    }

    #[test]
    fn settings_after_the_times_are_passed_over() {
        assert!(timing("00:01.000 --> 00:02.000 align:start position:0%").is_some());
        assert!(timing("00:01.000-->00:02.000").is_some());
        assert!(timing("00:01.000 -> 00:02.000").is_none());
    }
}
