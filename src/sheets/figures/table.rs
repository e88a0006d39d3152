//! The figures as aligned tables for people.

use std::fmt::Write;

use super::{Figures, LoopFigures, PullFigures};

/// Shown where a number cannot be reckoned.
const NONE: &str = "-";

const HEADS: [&str; 12] = [
    "mark", "angle", "strip", "±", "mm/°", "arm", "pull °", "across", "tension", "cuff", "forearm",
    "elbow",
];
const UNITS: [&str; 12] = ["", "°", "mm", "mm", "", "mm", "", "share", "N", "kPa", "kPa", "kPa"];
const WIDTH: usize = 8;

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
        for step in &self.wear.steps {
            let days = format!("{} to {}, {} days", step.from, step.to, step.days);
            let dose =
                format!("{} min × {} = {} min a day", step.minutes, step.times, step.daily_min);
            line(text, &format!("  {days}: {dose}"));
        }
        if let Some(last) = self.wear.weeks.last() {
            line(text, &format!("  {} weeks, {} minutes in all\n", last.week, last.total_min));
        }
    }
}

impl Figures {
    fn write_course(&self, text: &mut String) {
        let Some(course) = &self.progress.course else { return };
        line(text, "Course");
        for it in &self.progress.directions {
            let Some(trend) = &it.trend else { continue };
            let interval = trend
                .interval_deg_per_week
                .map_or_else(String::new, |[low, high]| format!(", 95 % {low:+.1} to {high:+.1}"));
            let range = format!("{}° to {}°", it.first_deg, it.newest_deg);
            let slope = trend.slope_deg_per_week;
            line(text, &format!("  {}: {range}, {slope:+.1}° a week{interval}", it.direction));
        }
        for it in &course.doses {
            let worn = it.worn_min.map_or_else(|| NONE.to_owned(), |it| it.to_string());
            let days = format!("{} to {}", it.from, it.to);
            line(text, &format!("  {days}: {worn} of {} min worn", it.planned_min));
        }
        for it in &course.advice {
            let reasons = it.reasons.join(", ");
            line(text, &format!("  {}: {} ({reasons}); the therapist decides", it.pull, it.next));
        }
        line(text, "");
    }

    fn write_pattern(&self, text: &mut String) {
        line(text, "Pattern");
        for it in &self.pattern.pieces {
            let size = format!("{:.0} × {:.0} mm", it.length_mm, it.width_mm);
            let edge = format!("{:.0} cm², edge {:.0} mm", it.area_mm2 / 100.0, it.perimeter_mm);
            line(text, &format!("  {}: {size}, {edge}", it.piece));
        }
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
        row(text, &HEADS.map(str::to_owned));
        row(text, &UNITS.map(str::to_owned));
        for mark in &self.marks {
            let or_none =
                |value: Option<f64>| value.map_or_else(|| NONE.to_owned(), |it| format!("{it:.1}"));
            row(
                text,
                &[
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
                ],
            );
        }
    }
}

fn row(text: &mut String, cells: &[String; 12]) {
    let cells: Vec<String> = cells.iter().map(|cell| format!("{cell:>WIDTH$}")).collect();
    line(text, &cells.concat());
}

fn line(text: &mut String, words: &str) {
    // Writing to a string cannot fail.
    let _ = writeln!(text, "{words}");
}
