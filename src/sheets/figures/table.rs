//! The figures as aligned tables for people.

use super::{Figures, LoopFigures, PullFigures, StepFigures};

/// Shown where a number cannot be reckoned.
const NONE: &str = "-";

const HEADS: [&str; 12] = [
    "mark", "angle", "strip", "±", "mm/°", "arm", "pull °", "across", "tension", "cuff", "forearm",
    "elbow",
];
const UNITS: [&str; 12] = ["", "°", "mm", "mm", "", "mm", "", "share", "N", "kPa", "kPa", "kPa"];
/// The columns of the narrowest terminal that is common.
const WIDTH: usize = 80;

impl Figures {
    /// The figures as text, a table for each loop.
    #[must_use]
    pub fn to_table(&self) -> String {
        let mut text = format!("Case {}\n", self.case);
        for pull in &self.pulls {
            pull.write(&mut text);
        }
        self.write_wear(&mut text);
        self.write_course(&mut text);
        self.write_pattern(&mut text);
        for finding in &self.findings {
            line(
                &mut text,
                &format!("{} {}: {} {}", finding.level, finding.id, finding.text, finding.action),
            );
        }
        text
    }

    fn write_wear(&self, text: &mut String) {
        line(text, "\nWear");
        let step = |it: &StepFigures| {
            vec![
                format!("  {} to {}", it.from, it.to),
                format!("{} days", it.days),
                format!("{} min × {}", it.minutes, it.times),
                format!("{} min a day", it.daily_min),
            ]
        };
        table(text, &self.wear.steps.iter().map(step).collect::<Vec<_>>());
        if let Some(last) = self.wear.weeks.last() {
            line(text, &format!("  {} weeks, {} minutes in all\n", last.week, last.total_min));
        }
    }
}

impl Figures {
    fn write_course(&self, text: &mut String) {
        let Some(course) = &self.progress.course else { return };
        line(text, "Course");
        let trends = self.progress.directions.iter().filter_map(|it| {
            let trend = it.trend.as_ref()?;
            let interval = trend
                .interval_deg_per_week
                .map_or_else(String::new, |[low, high]| format!("95 % {low:+.1} to {high:+.1}"));
            let range = format!("{}° to {}°", it.first_deg, it.newest_deg);
            let slope = trend.slope_deg_per_week;
            Some(vec![
                format!("  {}", it.direction),
                range,
                format!("{slope:+.1}° a week"),
                interval,
            ])
        });
        table(text, &trends.collect::<Vec<_>>());
        let doses = course.doses.iter().map(|it| {
            let worn = it.worn_min.map_or_else(|| NONE.to_owned(), |it| it.to_string());
            let days = format!("  {} to {}", it.from, it.to);
            vec![days, worn, format!("of {} min worn", it.planned_min)]
        });
        table(text, &doses.collect::<Vec<_>>());
        for it in &course.advice {
            let reasons = it.reasons.join(", ");
            line(text, &format!("  {}: {} ({reasons}); the therapist decides", it.pull, it.next));
        }
        line(text, "");
    }

    fn write_pattern(&self, text: &mut String) {
        line(text, "Pattern");
        let pieces = self.pattern.pieces.iter().map(|it| {
            vec![
                format!("  {}", it.piece),
                format!("{:.0} × {:.0} mm", it.length_mm, it.width_mm),
                format!("{:.0} cm²", it.area_mm2 / 100.0),
                format!("edge {:.0} mm", it.perimeter_mm),
            ]
        });
        table(text, &pieces.collect::<Vec<_>>());
        for it in &self.pattern.refused {
            let missing = it.missing.join(", ");
            line(text, &format!("  {}: not drawn for want of {missing}", it.piece));
        }
        let sheet = &self.pattern.sheet;
        if sheet.sheets > 0 {
            let size = format!("{} × {} mm", sheet.length_mm, sheet.width_mm);
            let used = sheet.share * 100.0;
            line(text, &format!("  {} sheet(s) of {size}, {used:.0} % used\n", sheet.sheets));
        }
    }
}

impl PullFigures {
    fn write(&self, text: &mut String) {
        let Self { direction, start_deg, goal_deg, reachable_deg, .. } = self;
        line(
            text,
            &format!(
                "\nPull toward {direction}: from {start_deg}° to {goal_deg}°, reach {reachable_deg}°"
            ),
        );
        for made in &self.loops {
            made.write(text);
        }
    }
}

impl LoopFigures {
    fn write(&self, text: &mut String) {
        line(
            text,
            &format!(
                "\nLoop {}: cut {:.1} mm, closed {:.1} mm, flat {:.1} mm, line {:.1} mm; {:.1}° to {:.1}°",
                self.number,
                self.cut_mm,
                self.closed_mm,
                self.flat_mm,
                self.line_mm,
                self.from_deg,
                self.to_deg
            ),
        );
        let heads = [HEADS, UNITS].map(|it| it.map(str::to_owned).to_vec());
        let marks = self.marks.iter().map(|mark| {
            let or_none =
                |value: Option<f64>| value.map_or_else(|| NONE.to_owned(), |it| format!("{it:.1}"));
            vec![
                mark.mark.to_string(),
                format!("{:.1}", mark.angle_deg),
                format!("{:.1}", mark.strip_mm),
                format!("{:.1}", mark.spread_mm),
                format!("{:.2}", mark.mm_per_deg),
                format!("{:.1}", mark.moment_arm_mm),
                format!("{:.1}", mark.pull_angle_deg),
                format!("{:.3}", mark.rotating_share),
                or_none(mark.tension_n),
                or_none(mark.cuff_kpa),
                or_none(mark.forearm_kpa),
                or_none(mark.elbow_kpa),
            ]
        });
        table(text, &heads.into_iter().chain(marks).collect::<Vec<_>>());
    }
}

/// Rows in columns as wide as their widest cell, the first set left where it holds words; two spaces between them where
/// they fit, else one.
fn table(text: &mut String, rows: &[Vec<String>]) {
    let count = |it: &String| it.chars().count();
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widest =
        |at: usize| rows.iter().filter_map(|row| row.get(at).map(count)).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns).map(widest).collect();
    let gaps = columns.saturating_sub(1);
    let gap = if widths.iter().sum::<usize>() + 2 * gaps <= WIDTH { "  " } else { " " };
    for row in rows {
        let cells = row.iter().zip(&widths).enumerate().map(|(at, (cell, width))| {
            let is_words = at == 0 && cell.starts_with(' ');
            if is_words { format!("{cell:<width$}") } else { format!("{cell:>width$}") }
        });
        let whole = cells.collect::<Vec<_>>().join(gap);
        text.push_str(whole.trim_end());
        text.push('\n');
    }
}

/// A line of words, broken between words where it is wider than a narrow terminal; what follows stands further in.
fn line(text: &mut String, words: &str) {
    let (breaks, words) = words.split_at(words.len() - words.trim_start_matches('\n').len());
    text.push_str(breaks);
    let start = words.len() - words.trim_start_matches(' ').len();
    let mut width = start;
    text.push_str(&words[..start]);
    let mut is_first = true;
    for word in words[start..].split(' ') {
        let long = word.chars().count();
        if !is_first && width + 1 + long > WIDTH {
            text.push('\n');
            text.push_str(&" ".repeat(start + 4));
            width = start + 4;
        } else if !is_first {
            text.push(' ');
            width += 1;
        }
        text.push_str(word);
        width += long;
        is_first = false;
    }
    text.push('\n');
}
