//! Checks that look across keys: what cannot be true together.

use super::fault::Kind;
use super::fields::Notes;
use super::limits::{SKIN_PLAN, SKIN_STOP, SKIN_WARN};
use super::pattern::{STRAP_WIDTH, usual_sheet};
use super::usual;
use super::wear::{DAILY_LIMIT, LONGEST, START};
use crate::units::{Angle, Length};

/// Notes every conflict between keys, and depths that nothing can stand in for.
pub(super) fn check(notes: &Notes) {
    super::days::check(notes);
    wear(notes);
    skin_limits(notes);
    active_within_passive(notes);
    for pull in notes.items("orthosis.pulls") {
        goal(notes, &pull);
        cuff(notes, &pull);
        piece_and_strip(notes, &pull);
        usual::depths(notes, &pull);
    }
    one_pull_a_direction(notes);
    super::course::check(notes);
    sheet(notes);
    girths(notes);
    around_elbow(notes);
    odd_measures(notes);
    forearm_straps(notes);
}

/// Sessions only grow, and one is no longer than a day allows; what is left out is at its default.
fn wear(notes: &Notes) {
    if !notes.has("wear") {
        return;
    }
    let minutes = |key: &str, usual: u32| {
        if notes.has(key) { notes.whole(key) } else { Some(usual) }
    };
    let start = minutes("wear.start.minutes", START.minutes);
    let longest = minutes("wear.longest.minutes", LONGEST.minutes.max(start.unwrap_or_default()));
    let limit = minutes("wear.daily_limit", DAILY_LIMIT);
    if let (Some(start), Some(longest)) = (start, longest)
        && longest < start
    {
        let why = format!("sessions start longer, at {start} minutes");
        notes.conflict("wear.longest.minutes", why, "let sessions grow, or keep both the same");
    }
    let Some(limit) = limit else { return };
    for (key, session) in [("wear.start.minutes", start), ("wear.longest.minutes", longest)] {
        if session.is_some_and(|it| it > limit) {
            let session = session.unwrap_or_default();
            let (key, why) = if notes.has(key) {
                (key, format!("a day's limit is {limit} minutes"))
            } else {
                (
                    "wear.daily_limit",
                    format!("one session is {session} minutes where none is given"),
                )
            };
            notes.conflict(key, why, "shorten the session, or set `wear.daily_limit`");
        }
    }
}

/// Skin limits must rise: plan, warn, stop; what is left out is at its default.
fn skin_limits(notes: &Notes) {
    let limits = [("skin_plan", SKIN_PLAN), ("skin_warn", SKIN_WARN), ("skin_stop", SKIN_STOP)];
    for pair in limits.windows(2) {
        let keys = [pair[0].0, pair[1].0].map(|name| format!("limits.{name}"));
        let value = |at: usize| {
            if notes.has(&keys[at]) { notes.pressure(&keys[at]) } else { Some(pair[at].1) }
        };
        let (Some(low), Some(high)) = (value(0), value(1)) else { continue };
        if low <= high {
            continue;
        }
        let (key, other, size) = if notes.has(&keys[1]) {
            (&keys[1], &keys[0], low)
        } else {
            (&keys[0], &keys[1], high)
        };
        let kpa = (size.to_kpa() * 10.0).round() / 10.0;
        let why = format!("`{other}` is {kpa} kPa");
        notes.conflict(key, why, "let plan, warn and stop rise in that order");
    }
}

/// The active range cannot lie beyond the passive one: a remark, since readings vary.
fn active_within_passive(notes: &Notes) {
    let course = notes.items("motion").into_iter().chain(notes.items("visits"));
    for visit in course {
        for way in ["flexion", "extension"] {
            let active_key = format!("{visit}.active.{way}");
            if let (Some(active), Some(passive)) =
                (notes.angle(&active_key), notes.angle(&format!("{visit}.passive.{way}")))
                && active > passive
            {
                let text = format!(
                    "Active {way} of {} is beyond passive {way} of {} on the same day. Measure both again.",
                    degrees(active),
                    degrees(passive)
                );
                notes.remark(&active_key, text);
            }
        }
    }
}

/// The goal must lie beyond today's passive range, which must be there.
fn goal(notes: &Notes, pull: &str) {
    let visits = notes.items("motion");
    let Some(way) = notes.word(&format!("{pull}.direction")) else { return };
    if !["flexion", "extension"].contains(&way.as_str()) {
        return;
    }
    if visits.is_empty() {
        return;
    }
    let passive_key = format!("{}.passive.{way}", visits[visits.len() - 1]);
    if !notes.has(&passive_key) {
        missing(notes, &passive_key, "today's passive end range toward the pull, in degrees");
        return;
    }
    let goal_key = format!("{pull}.goal");
    if let (Some(goal), Some(passive)) = (notes.angle(&goal_key), notes.angle(&passive_key))
        && goal <= passive
    {
        let why = format!("today's passive {way} is already {}", degrees(passive));
        notes.conflict(&goal_key, why, "set a goal beyond today's range, or leave this pull out");
    }
}

fn cuff(notes: &Notes, pull: &str) {
    let key = |name: &str| format!("{pull}.cuff.{name}");
    let size = |name: &str| usual::length(notes, pull, &format!("cuff.{name}"));
    let edge = size("edge_from_crease");
    let end = size("end_from_crease");
    let hole = size("hole_from_crease");
    if let (Some(edge), Some(end)) = (edge, end)
        && end <= edge
    {
        let why = format!("the cuff starts further out, at {}", mm(edge));
        notes.conflict(&key("end_from_crease"), why, "measure both from the wrist crease again");
        return;
    }
    if let (Some(hole), Some(end)) = (hole, end)
        && hole >= end
    {
        let why = format!("the cuff ends at {}: the hole lies outside the cuff", mm(end));
        notes.conflict(
            &key("hole_from_crease"),
            why,
            "move the hole nearer, or let the cuff end further out",
        );
    }
    if let (Some(hole), Some(edge)) = (hole, edge)
        && hole <= edge
    {
        let why = format!("the cuff starts at {}: the hole lies outside the cuff", mm(edge));
        notes.conflict(&key("hole_from_crease"), why, "move the hole further out on the cuff");
    }
    if let (Some(hand), Some(end)) = (notes.length("limb.hand_length"), end)
        && end > hand
    {
        let why = format!("the hand is {} long", mm(hand));
        notes.conflict(
            &key("end_from_crease"),
            why,
            "end the cuff about level with the middle finger joints",
        );
    }
}

fn piece_and_strip(notes: &Notes, pull: &str) {
    let length = |name: &str| usual::length(notes, pull, name);
    let forearm = notes.length("limb.forearm_length");
    let edge = length("forearm_piece.edge_from_crease");
    let start = length("strip.start_from_crease");
    let strip = length("strip.length");
    let hole_to_pad = length("tab.hole_to_pad");
    let conflict = |name: &str, why: String, cure: &str| {
        notes.conflict(&format!("{pull}.{name}"), why, cure);
    };
    if let (Some(forearm), Some(start), Some(strip)) = (forearm, start, strip)
        && start + strip > forearm
    {
        let why = format!(
            "the strip would end {} from the crease and the forearm is {} long",
            mm(start + strip),
            mm(forearm)
        );
        conflict("strip.length", why, "shorten the strip, or start it nearer to the wrist");
    }
    if let (Some(start), Some(hole), Some(edge)) = (start, hole_to_pad, edge)
        && start - hole <= edge
    {
        let why = format!(
            "with the tab at the strip's end its hole hangs over the forearm piece's edge at {}",
            mm(edge)
        );
        let cure =
            "start the strip further from the wrist, or bring the tab's hole nearer to its pad";
        conflict("strip.start_from_crease", why, cure);
    }
    if let (Some(strip), Some(pad)) = (strip, length("tab.pad_length"))
        && pad >= strip
    {
        let why = format!("the strip is {} long: the tab has no room to move", mm(strip));
        conflict("tab.pad_length", why, "lengthen the strip, or shorten the tab's pad");
    }
    let width = if notes.has(&format!("{pull}.strip.width")) {
        length("strip.width")
    } else {
        Some(usual::strip().width)
    };
    if let (Some(width), Some(tab)) = (width, length("tab.width"))
        && tab > width
    {
        let why = format!("the strip is only {} wide", mm(width));
        conflict("tab.width", why, "make the tab no wider than the strip");
    }
    if let (Some(forearm), Some(edge), Some(piece)) =
        (forearm, edge, length("forearm_piece.length"))
        && edge + piece > forearm
    {
        let why = format!(
            "from its edge at {} it would end at {} and the elbow crease lies at {}",
            mm(edge),
            mm(edge + piece),
            mm(forearm)
        );
        conflict("forearm_piece.length", why, "measure from the piece's edge to the elbow crease");
    }
    if let (Some(edge), Some(piece), Some(start), Some(strip)) =
        (edge, length("forearm_piece.length"), start, strip)
        && start + strip > edge + piece
    {
        let why = format!("the forearm piece ends {} from the crease", mm(edge + piece));
        conflict("strip.length", why, "shorten the strip, or make the piece longer");
    }
}

fn one_pull_a_direction(notes: &Notes) {
    let pulls = notes.items("orthosis.pulls");
    let directions: Vec<_> =
        pulls.iter().map(|pull| notes.word(&format!("{pull}.direction"))).collect();
    for (index, direction) in directions.iter().enumerate() {
        if direction.is_some() && directions[..index].contains(direction) {
            let key = format!("{}.direction", pulls[index]);
            notes.conflict(
                &key,
                "another pull already goes that way",
                "keep one pull for each direction",
            );
        }
    }
}

/// The sheet's length is its longer side.
fn sheet(notes: &Notes) {
    let usual = usual_sheet(Length::ZERO);
    let side = |name: &str, usual: Length| {
        let key = format!("orthosis.sheet.{name}");
        if notes.has(&key) { notes.length(&key) } else { Some(usual) }
    };
    if let (Some(long), Some(width)) = (side("length", usual.length), side("width", usual.width))
        && width > long
    {
        let key =
            ["orthosis.sheet.width", "orthosis.sheet.length"].into_iter().find(|it| notes.has(it));
        let why = format!("the sheet would be {} long and {} wide", mm(long), mm(width));
        let key = key.unwrap_or("orthosis.sheet");
        notes.conflict(key, why, "give both sides, the longer one as `length`");
    }
}

/// Girths lie on the forearm, each at a place of its own.
fn girths(notes: &Notes) {
    let forearm = notes.length("limb.forearm_length");
    let mut seen: Vec<Length> = Vec::new();
    for item in notes.items("limb.forearm_girths") {
        let key = format!("{item}.from_crease");
        let Some(place) = notes.length(&key) else { continue };
        if let Some(forearm) = forearm.filter(|it| place > *it) {
            let why = format!("the forearm is {} long", mm(forearm));
            notes.conflict(&key, why, "measure again; round the elbow is `limb.elbow_girth`");
        }
        if seen.iter().any(|it| (*it - place).to_mm().abs() < LEAST_APART.to_mm()) {
            let why = format!("another girth was measured within {}", mm(LEAST_APART));
            notes.conflict(&key, why, "keep one girth for each place");
        }
        seen.push(place);
    }
}

/// The tape runs up the forearm, round the elbow and down again.
fn around_elbow(notes: &Notes) {
    let key = "limb.around_elbow";
    if let (Some(path), Some(forearm)) = (notes.length(key), notes.length("limb.forearm_length"))
        && path < forearm * 2.0
    {
        let why =
            format!("up and down the forearm of {} alone are {}", mm(forearm), mm(forearm * 2.0));
        notes.conflict(
            key,
            why,
            "measure from the front crease round the bent elbow to the back crease",
        );
    }
}

/// Measures that do not go together: remarks, since limbs differ.
fn odd_measures(notes: &Notes) {
    let around = "limb.around_elbow";
    if let (Some(path), Some(forearm)) = (notes.length(around), notes.length("limb.forearm_length"))
        && path > forearm * 2.0 + MOST_BEND
    {
        let text = format!(
            "Round the bent elbow {} leave {} for the bend itself, more than a big elbow takes. Measure again.",
            mm(path),
            mm(path - forearm * 2.0)
        );
        notes.remark(around, text);
    }
    let fingers = "limb.finger_joint_girth";
    if let (Some(joints), Some(knuckles)) =
        (notes.length(fingers), notes.length("limb.knuckle_girth"))
        && joints > knuckles
    {
        let text = format!(
            "The fingers together are wider round, {}, than the knuckles, {}. Measure both again.",
            mm(joints),
            mm(knuckles)
        );
        notes.remark(fingers, text);
    }
}

/// Twice the bend behind the elbow of a big man, about 90 mm.
const MOST_BEND: Length = Length::mm(180.0);

/// Two girths nearer than this are one place measured twice.
const LEAST_APART: Length = Length::mm(5.0);

/// Both straps lie on the forearm piece, clear of each other.
fn forearm_straps(notes: &Notes) {
    let key = |index: usize| format!("orthosis.pattern.forearm_straps[{}]", index + 1);
    let places = [notes.length(&key(0)), notes.length(&key(1))];
    let half = STRAP_WIDTH / 2.0;
    if let [Some(near), Some(far)] = places
        && far > near
        && far - near < STRAP_WIDTH
    {
        let why = format!("the straps would overlap: each is {} wide", mm(STRAP_WIDTH));
        notes.conflict(&key(1), why, "set them further apart");
    }
    let forearm = notes.length("limb.forearm_length");
    for (index, place) in places.into_iter().enumerate() {
        let Some(place) = place else { continue };
        for pull in notes.items("orthosis.pulls") {
            if let Some(edge) = usual::length(notes, &pull, "forearm_piece.edge_from_crease")
                && place < edge + half
            {
                let why = format!("the forearm piece starts {} from the crease", mm(edge));
                notes.conflict(&key(index), why, "keep the whole strap on the piece");
                break;
            }
        }
        if let Some(forearm) = forearm.filter(|it| place + half > *it) {
            let why = format!("the elbow crease lies {} from the wrist crease", mm(forearm));
            notes.conflict(&key(index), why, "keep the whole strap on the forearm");
        }
    }
}

/// Notes a missing key once, at the nearest group that is there.
pub(super) fn missing(notes: &Notes, key: &str, accepted: &str) {
    let kind = Kind::Missing { key: key.into(), accepted: accepted.into() };
    let place = notes.place(key);
    if !notes.noted(&kind) {
        notes.fault(place, kind);
    }
}

fn mm(length: Length) -> String {
    let rounded = (length.to_mm() * 10.0).round() / 10.0;
    format!("{rounded} mm")
}

fn degrees(angle: Angle) -> String {
    let rounded = (angle.to_degrees() * 10.0).round() / 10.0;
    format!("{rounded} degrees")
}
