//! Charts as SVG: black on white, so that they print, and read without colour.

use chrono::{Datelike, NaiveDate};
use plotters::coord::Shift;
use plotters::prelude::*;

use super::herd::{Day, Herd, Trend};
use super::survival::Step;
use super::wilson;

/// Width of a chart; it is scaled to the page.
const WIDTH: u32 = 640;
const GREY: RGBColor = RGBColor(205, 205, 205);
const LINE: RGBColor = RGBColor(190, 190, 190);

type Drawing<'a> = DrawingArea<SVGBackend<'a>, Shift>;
/// What goes wrong while drawing into a text: nothing, in practice.
type Drawn = Result<(), Box<dyn std::error::Error>>;

/// Draws into a text; `title` is read out in the chart's place. Empty where it cannot be drawn.
fn svg(title: &str, height: u32, draw: impl FnOnce(&Drawing) -> Drawn) -> String {
    let mut out = String::new();
    let drawn = {
        let area = SVGBackend::with_string(&mut out, (WIDTH, height)).into_drawing_area();
        area.fill(&WHITE).map_err(Into::into).and_then(|()| draw(&area)).and_then(|()| Ok(area.present()?))
    };
    if drawn.is_err() {
        return String::new();
    }
    let title = super::html::escape(title);
    // A title for those who listen, and scaled to the page.
    let head = format!("<svg viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" aria-label=\"{title}\" ");
    let old = format!("viewBox=\"0 0 {WIDTH} {height}\" ");
    out.replacen(&old, "", 1).replacen("<svg ", &head, 1)
}

fn text(size: i32) -> TextStyle<'static> {
    ("sans-serif", size).into_font().color(&BLACK)
}

/// Cows with each disorder, per cent, with their limits; `None` where there are none.
pub fn shares(herd: &Herd) -> Option<String> {
    let bars: Vec<(&str, f64, f64, f64)> = herd
        .shares
        .iter()
        .filter(|s| s.code.is_some() && s.cows > 0)
        .filter_map(|s| Some((s.what.as_str(), s.percent?, s.low?, s.high?)))
        .take(16)
        .collect();
    // At most sixteen.
    let n = i32::try_from(bars.len()).unwrap_or(i32::MAX);
    if n == 0 {
        return None;
    }
    let most = bars.iter().map(|b| b.3).fold(5.0, f64::max);
    let height = 60 + 24 * n as u32;
    Some(svg("per cent of cows with each disorder", height, |area| {
        let mut chart = ChartBuilder::on(area)
            .margin(6)
            .margin_right(16)
            .x_label_area_size(40)
            .y_label_area_size(200)
            .build_cartesian_2d(0.0..most, (0..n - 1).into_segmented())?;
        // The first row is the topmost one.
        let at = |i: i32| n - 1 - i;
        let name = |v: &SegmentValue<i32>| match v {
            SegmentValue::CenterOf(i) => bars.get(at(*i) as usize).map_or(String::new(), |b| b.0.to_owned()),
            _ => String::new(),
        };
        chart
            .configure_mesh()
            .disable_y_mesh()
            .light_line_style(TRANSPARENT)
            .bold_line_style(LINE)
            .x_labels(6)
            .y_labels(bars.len())
            .y_label_formatter(&name)
            .x_label_formatter(&|x| format!("{x:.0}"))
            .x_desc("per cent of cows examined; lines: 95 % limits")
            .label_style(text(14))
            .axis_desc_style(text(13))
            .draw()?;
        for (i, (_, share, low, high)) in (0..).zip(&bars) {
            let y = at(i);
            let ends = [(0.0, SegmentValue::Exact(y)), (*share, SegmentValue::Exact(y + 1))];
            let bar = |style: ShapeStyle| {
                let mut bar = Rectangle::new(ends.clone(), style);
                bar.set_margin(5, 5, 0, 0);
                bar
            };
            chart.draw_series([bar(GREY.filled()), bar(BLACK.stroke_width(1))])?;
            let middle = |x: f64| (x, SegmentValue::CenterOf(y));
            chart.draw_series([PathElement::new(vec![middle(*low), middle(*high)], BLACK.stroke_width(2))])?;
        }
        Ok(())
    }))
}

/// Cows with a lesion over the visits, per cent, with their limits; `None` where there are not two visits.
pub fn trend(by: Trend, days: &[Day]) -> Option<String> {
    let points: Vec<(i32, f64, f64, f64)> = days
        .iter()
        .filter_map(|d| {
            let (low, high) = wilson::limits(d.with_lesion, d.examined)?;
            let share = d.with_lesion as f64 / d.examined as f64;
            Some((d.date.num_days_from_ce(), 100.0 * share, 100.0 * low, 100.0 * high))
        })
        .collect();
    let (first, last) = (points.first()?.0, points.last()?.0);
    if first == last {
        return None;
    }
    let edge = (last - first) / 30 + 1;
    Some(svg("per cent of cows examined that had a lesion, over time", 260, |area| {
        let mut chart = ChartBuilder::on(area)
            .margin(8)
            .margin_right(40)
            .x_label_area_size(28)
            .y_label_area_size(56)
            .build_cartesian_2d(first - edge..last + edge, 0.0..100.0)?;
        let day = |n: &i32| {
            let day = NaiveDate::from_num_days_from_ce_opt(*n).unwrap_or_default();
            match by {
                // The marks are not the visits' days.
                Trend::Visits => day.format("%b %Y").to_string().to_lowercase(),
                Trend::Years => day.year().to_string(),
            }
        };
        chart
            .configure_mesh()
            .disable_x_mesh()
            .light_line_style(TRANSPARENT)
            .bold_line_style(LINE)
            .x_labels(5)
            .y_labels(6)
            .x_label_formatter(&day)
            .y_label_formatter(&|y| format!("{y:.0}"))
            .y_desc("per cent")
            .label_style(text(14))
            .axis_desc_style(text(13))
            .draw()?;
        for (x, _, low, high) in &points {
            chart.draw_series([PathElement::new(vec![(*x, *low), (*x, *high)], BLACK.stroke_width(1))])?;
        }
        chart.draw_series(LineSeries::new(points.iter().map(|p| (p.0, p.1)), BLACK.stroke_width(2)))?;
        chart.draw_series(points.iter().map(|p| Circle::new((p.0, p.1), 4, BLACK.filled())))?;
        Ok(())
    }))
}

/// Share of cases still open by days; `None` where none was seen healed.
pub fn healing(steps: &[Step]) -> Option<String> {
    let last = steps.last()?.days.max(1);
    // A stair: level until the day, then down.
    let mut points = vec![(0, 100.0)];
    for s in steps {
        let before = points.last().map_or(100.0, |p: &(i64, f64)| p.1);
        points.extend([(s.days, before), (s.days, 100.0 * s.open)]);
    }
    Some(svg("per cent of cases still open, by days from first seen", 240, |area| {
        let mut chart = ChartBuilder::on(area)
            .margin(8)
            .margin_right(24)
            .x_label_area_size(40)
            .y_label_area_size(56)
            .build_cartesian_2d(0..last + last / 20 + 1, 0.0..100.0)?;
        chart
            .configure_mesh()
            .disable_x_mesh()
            .light_line_style(TRANSPARENT)
            .bold_line_style(LINE)
            .x_labels(8)
            .y_labels(6)
            .y_label_formatter(&|y| format!("{y:.0}"))
            .x_desc("days from first seen")
            .y_desc("per cent still open")
            .label_style(text(14))
            .axis_desc_style(text(13))
            .draw()?;
        chart.draw_series(LineSeries::new(points.iter().copied(), BLACK.stroke_width(2)))?;
        Ok(())
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_chart_where_there_is_nothing_to_draw() {
        assert_eq!((shares(&Herd::default()), trend(Trend::Visits, &[]), healing(&[])), (None, None, None));
        let day = Day { date: NaiveDate::default(), examined: 0, with_lesion: 0 };
        assert_eq!(trend(Trend::Visits, &[day.clone(), day]), None);
    }

    #[test]
    fn a_point_for_each_visit_and_a_title() {
        let day = |d, with_lesion| Day { date: NaiveDate::from_ymd_opt(2026, d, 1).unwrap(), examined: 9, with_lesion };
        let svg = trend(Trend::Visits, &[day(1, 3), day(2, 9), day(7, 0)]).unwrap();
        assert_eq!(svg.matches("<circle").count(), 3);
        assert!(svg.starts_with("<svg viewBox=\"0 0 640 260\" role=\"img\" aria-label=\"per cent"), "{svg}");
        assert_eq!(svg.matches("viewBox").count(), 1);
    }
}
