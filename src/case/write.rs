//! A case as a normalised file: one order of keys, one unit for each quantity, defaults left out.

use serde_yaml::{Mapping, Value};

use super::measures::{Limb, Range};
use super::orthosis::Pull;
use super::{
    Built, Case, Condition, Cut, EndFeel, Girth, Language, Limits, MeasuringError, Motion,
    Orthosis, Override, PageSize, Pain, Photo, Plateau, PrintSize, Reading, Scores, Sensation,
    Session, Sheet, Size, SkinSeen, Stock, StockLine, Swelling, TabSeen, TeachBack, Tendon, Tried,
    Visit, usual_sheet,
};
use crate::units::{Angle, Area, Force, Length, Pressure};

/// Writes a case as YAML that reads back as the same case.
///
/// # Panics
///
/// Never: a tree of texts, numbers and lists is always YAML.
#[must_use]
pub fn normalised(case: &Case) -> String {
    serde_yaml::to_string(&whole(case)).expect("a tree of texts and numbers is YAML")
}

fn whole(case: &Case) -> Value {
    let usual = MeasuringError::default();
    let error = case.measuring_error;
    Group::new()
        .put("case", head(case))
        .put("clinic", clinic(case))
        .put("patient", patient(case))
        .put("referral", referral(case))
        .put("history", history(case))
        .put("motion", list(&case.motion, motion))
        .put_if("visits", (!case.visits.is_empty()).then(|| list(&case.visits, visit)))
        .put_if("plateau", case.plateau.map(plateau))
        .put_if("preconditioning", (!case.preconditioning.is_empty()).then(|| warm_ups(case)))
        .put_if("torque", (!case.torque.is_empty()).then(|| torque(&case.torque)))
        .put("limb", limb(&case.limb))
        .put("orthosis", orthosis(case))
        .put("wear", wear(case))
        .put_if("measuring_error", (error != usual).then(|| measuring_error(error)))
        .put_if("limits", (case.limits != Limits::default()).then(|| limits(&case.limits)))
        .put_if("stock", (case.stock != Stock::default()).then(|| stock(&case.stock)))
        .put_if("photos", (!case.photos.is_empty()).then(|| list(&case.photos, photo)))
        .put_if("overrides", (!case.overrides.is_empty()).then(|| list(&case.overrides, decision)))
        .done()
}

fn head(case: &Case) -> Value {
    let head = &case.head;
    Group::new()
        .text("id", &head.id)
        .text("prepared", head.prepared)
        .put_if("language", (head.language != Language::default()).then(|| head.language.word()))
        .put_if(
            "print_size",
            (head.print_size != PrintSize::default()).then(|| head.print_size.word()),
        )
        .put_if(
            "teach_back",
            (head.teach_back != TeachBack::default()).then(|| head.teach_back.word()),
        )
        .put_if("next_visit", head.next_visit.map(|day| day.to_string()))
        .done()
}

fn clinic(case: &Case) -> Value {
    let clinic = &case.clinic;
    Group::new()
        .text("name", &clinic.name)
        .text("phone", &clinic.phone)
        .text("therapist", &clinic.therapist)
        .put_if("page", (clinic.page == PageSize::A4).then_some("a4"))
        .put_if("logo", clinic.logo.as_deref())
        .done()
}

fn patient(case: &Case) -> Value {
    let patient = &case.patient;
    Group::new()
        .text("name", &patient.name)
        .put("age", patient.age)
        .text("side", patient.side.word())
        .text("works_with", patient.works_with.word())
        .done()
}

fn referral(case: &Case) -> Value {
    let referral = &case.referral;
    Group::new()
        .text("by", &referral.by)
        .text("date", referral.date)
        .text("diagnosis", &referral.diagnosis)
        .put_if("code", referral.code.as_deref().map(Value::from))
        .put_if("tried", (!referral.tried.is_empty()).then(|| list(&referral.tried, tried)))
        .put_if(
            "function",
            (!referral.function.is_empty())
                .then(|| list(&referral.function, |it| it.as_str().into())),
        )
        .put_if("recheck", referral.recheck.map(|day| day.to_string()))
        .done()
}

fn tried(tried: &Tried) -> Value {
    Group::new().text("what", &tried.what).text("result", &tried.result).done()
}

fn history(case: &Case) -> Value {
    let history = &case.history;
    let clearance = history.cleared_for_stretch.as_ref();
    Group::new()
        .text("injury", history.injury)
        .put_if("operation", history.operation.map(|day| day.to_string()))
        .text("bone", history.bone.word())
        .put_if(
            "cleared_for_stretch",
            clearance.map(|it| Group::new().text("by", &it.by).text("date", it.date).done()),
        )
        .text("end_feel", history.end_feel.word())
        .text("sensation", history.sensation.word())
        .text("skin", history.skin.word())
        .text("swelling", history.swelling.word())
        .put("rest_pain", history.rest_pain)
        .put("conditions", list(&history.conditions, condition))
        .done()
}

fn condition(condition: &Condition) -> Value {
    match condition {
        Condition::TendonRepair(tendon, day) => {
            let tendon = match tendon {
                Tendon::Flexor => "flexor",
                Tendon::Extensor => "extensor",
            };
            let repair = Group::new().text("tendon", tendon).text("date", day).done();
            Group::new().put("tendon_repair", repair).done()
        }
        Condition::Other(words) => Group::new().text("other", words).done(),
        plain => plain.word().into(),
    }
}

fn range(range: Range) -> Value {
    Group::new()
        .put_if("flexion", range.flexion.map(degrees))
        .put_if("extension", range.extension.map(degrees))
        .done()
}

fn motion(motion: &Motion) -> Value {
    let given = |it: Range| (it != Range::default()).then(|| range(it));
    Group::new()
        .text("date", motion.date)
        .put("passive", range(motion.passive))
        .put_if("active", given(motion.active))
        .put_if("other_side", given(motion.other_side))
        .done()
}

fn warm_ups(case: &Case) -> Value {
    case.preconditioning
        .iter()
        .fold(Group::new(), |group, it| {
            let pair =
                Group::new().put("cold", degrees(it.cold)).put("warm", degrees(it.warm)).done();
            group.put(it.direction.word(), pair)
        })
        .done()
}

fn photo(photo: &Photo) -> Value {
    Group::new().text("file", &photo.file).text("shows", &photo.shows).done()
}

fn plateau(rule: Plateau) -> Value {
    Group::new().put("weeks", rule.weeks).put("degrees", degrees(rule.degrees)).done()
}

fn visit(visit: &Visit) -> Value {
    let given = |it: Range| (it != Range::default()).then(|| range(it));
    let Visit {
        motion, torque: gauge, pain, skin, worn, marks, tab, scores, changes, remark, ..
    } = visit;
    let pain = (*pain != Pain::default())
        .then(|| Group::new().put_if("rest", pain.rest).put_if("worn", pain.worn).done());
    let worn =
        worn.map(|it| Group::new().put("sessions", it.sessions).put("minutes", it.minutes).done());
    let marks = (!marks.is_empty()).then(|| {
        marks.iter().fold(Group::new(), |group, it| group.put(it.pull.word(), it.mark)).done()
    });
    let seen = |it: &TabSeen| {
        Group::new()
            .text("pull", it.pull.word())
            .put("angle", degrees(it.angle))
            .text("place", mm(it.place))
            .done()
    };
    let scores = (*scores != Scores::default()).then(|| {
        Group::new()
            .put_if("dash", scores.dash)
            .put_if("quick_dash", scores.quick_dash)
            .put_if("prwe", scores.prwe)
            .done()
    });
    Group::new()
        .text("date", motion.date)
        .put_if("passive", given(motion.passive))
        .put_if("active", given(motion.active))
        .put_if("other_side", given(motion.other_side))
        .put_if("torque", (!gauge.is_empty()).then(|| torque(gauge)))
        .put_if("pain", pain)
        .put_if("skin", skin.map(SkinSeen::word))
        .put_if("sensation", visit.sensation.map(Sensation::word))
        .put_if("swelling", visit.swelling.map(Swelling::word))
        .put_if("end_feel", visit.end_feel.map(EndFeel::word))
        .put_if("worn", worn)
        .put_if("marks", marks)
        .put_if("tab", (!tab.is_empty()).then(|| list(tab, seen)))
        .put_if("scores", scores)
        .put_if("changes", (!changes.is_empty()).then(|| list(changes, |it| it.as_str().into())))
        .put_if("remark", remark.as_deref())
        .done()
}

fn torque(readings: &[Reading]) -> Value {
    list(readings, |it| {
        Group::new()
            .text("pull", it.pull.word())
            .put("angle", degrees(it.angle))
            .text("force", newtons(it.force))
            .text("lever", mm(it.lever))
            .done()
    })
}

fn limb(limb: &Limb) -> Value {
    Group::new()
        .text("hand_length", mm(limb.hand_length))
        .text("hand_breadth", mm(limb.hand_breadth))
        .put_if("hand_depth", limb.hand_depth.map(mm))
        .put_if("palm_depth", limb.palm_depth.map(mm))
        .put_if("wrist_depth", limb.wrist_depth.map(mm))
        .put_if("wrist_circumference", limb.wrist_circumference.map(mm))
        .put_if("forearm_depth", limb.forearm_depth.map(mm))
        .text("forearm_breadth", mm(limb.forearm_breadth))
        .text("forearm_length", mm(limb.forearm_length))
        .put_if("around_elbow", limb.around_elbow.map(mm))
        .put_if(
            "forearm_girths",
            (!limb.forearm_girths.is_empty()).then(|| list(&limb.forearm_girths, girth)),
        )
        .put_if("elbow_girth", limb.elbow_girth.map(mm))
        .put_if("knuckle_girth", limb.knuckle_girth.map(mm))
        .put_if("finger_joint_girth", limb.finger_joint_girth.map(mm))
        .put_if("axis_past_crease", limb.axis_past_crease.map(mm))
        .done()
}

fn girth(girth: &Girth) -> Value {
    Group::new().text("from_crease", mm(girth.from_crease)).text("girth", mm(girth.girth)).done()
}

fn orthosis(case: &Case) -> Value {
    let Orthosis { sheet: of, cut: drawn, pulls } = &case.orthosis;
    Group::new()
        .put("sheet", sheet(of))
        .put_if("pattern", (*drawn != Cut::default()).then(|| cut(drawn)))
        .put("pulls", list(pulls, pull))
        .done()
}

fn sheet(sheet: &Sheet) -> Value {
    let usual = usual_sheet(sheet.thickness);
    let other = |it: Length, than: Length| (it != than).then(|| mm(it));
    Group::new()
        .text("thickness", mm(sheet.thickness))
        .put_if("length", other(sheet.length, usual.length))
        .put_if("width", other(sheet.width, usual.width))
        .put_if("margin", other(sheet.margin, usual.margin))
        .put_if("grain", (sheet.grain != usual.grain).then(|| sheet.grain.word()))
        .done()
}

fn cut(cut: &Cut) -> Value {
    let stretch = format!("{} %", tidy(cut.draping_stretch * 100.0));
    let straps = cut.forearm_straps.map(|both| list(&both, |it| mm(*it).into()));
    Group::new()
        .text("gap", mm(cut.gap))
        .text("opening", mm(cut.opening))
        .text("wrap_from", cut.wrap.word())
        .text("draping_stretch", stretch)
        .text("corner", mm(cut.corner))
        .text("finger_room", mm(cut.finger_room))
        .put_if("forearm_straps", straps)
        .done()
}

fn pull(pull: &Pull) -> Value {
    let Pull {
        direction,
        goal,
        hold,
        reserve,
        cuff,
        forearm_piece,
        strip,
        tab,
        line,
        built: made,
        ..
    } = pull;
    // A size that the file left out stays left out: its spread goes with that.
    let size = |size: Size, value: Length| (!pull.usual.contains(&size)).then(|| mm(value));
    let cuff = Group::new()
        .put_if("hole_from_crease", size(Size::Hole, cuff.hole_from_crease))
        .put_if("hole_height", cuff.hole_height.map(mm))
        .put_if("edge_from_crease", size(Size::CuffEdge, cuff.edge_from_crease))
        .put_if("edge_height", cuff.edge_height.map(mm))
        .put_if("end_from_crease", size(Size::CuffEnd, cuff.end_from_crease))
        .put_if("bearing_breadth", cuff.bearing_breadth.map(mm));
    let piece = Group::new()
        .put_if("edge_from_crease", size(Size::PieceEdge, forearm_piece.edge_from_crease))
        .put_if("edge_height", forearm_piece.edge_height.map(mm))
        .put_if("bearing_breadth", forearm_piece.bearing_breadth.map(mm))
        .put_if("length", forearm_piece.length.map(mm))
        .put_if("elbow_area", forearm_piece.elbow_area.map(mm2));
    let strip = Group::new()
        .put_if("start_from_crease", size(Size::StripStart, strip.start_from_crease))
        .put_if("length", size(Size::StripLength, strip.length))
        .text("width", mm(strip.width))
        .put_if("height", strip.height.map(mm));
    let tab = Group::new()
        .put_if("width", size(Size::TabWidth, tab.width))
        .put_if("pad_length", size(Size::PadLength, tab.pad_length))
        .put_if("hole_to_pad", size(Size::HoleToPad, tab.hole_to_pad));
    let line = Group::new()
        .put_if("diameter", size(Size::LineDiameter, line.diameter))
        .put_if("strength", line.strength.map(newtons))
        .put_if("cuff_path", size(Size::CuffPath, line.cuff_path))
        .put_if("tail", size(Size::Tail, line.tail));
    Group::new()
        .text("direction", direction.word())
        .put("goal", degrees(*goal))
        .put_if("hold", hold.map(degrees))
        .put("reserve", degrees(*reserve))
        .put_if("cuff", cuff.given())
        .put_if("forearm_piece", piece.given())
        .put("strip", strip.done())
        .put_if("tab", tab.given())
        .put_if("line", line.given())
        .put_if("built", (!made.is_empty()).then(|| list(made, built)))
        .done()
}

fn built(built: &Built) -> Value {
    Group::new()
        .put("loop", built.number)
        .text("from", built.from)
        .text("flat", mm(built.flat))
        .put_if("hole_from_crease", built.hole_from_crease.map(mm))
        .put_if("hole_height", built.hole_height.map(mm))
        .put_if("cuff_edge_height", built.cuff_edge_height.map(mm))
        .put_if("piece_edge_height", built.piece_edge_height.map(mm))
        .put_if("strip_start_from_crease", built.strip_start_from_crease.map(mm))
        .put_if("strip_height", built.strip_height.map(mm))
        .done()
}

fn wear(case: &Case) -> Value {
    let wear = case.wear;
    let session =
        |it: Session| Group::new().put("minutes", it.minutes).put("times", it.times).done();
    Group::new()
        .put("start", session(wear.start))
        .put("longest", session(wear.longest))
        .put("step", wear.step)
        .put("days_per_step", wear.days_per_step)
        .put("weeks", wear.weeks)
        .put("daily_limit", wear.daily_limit)
        .put_if("from", wear.from.map(|day| day.to_string()))
        .done()
}

fn measuring_error(error: MeasuringError) -> Value {
    Group::new()
        .text("tape", mm(error.tape))
        .text("depth", mm(error.depth))
        .put("raters", error.raters.word())
        .put("goniometer", degrees(error.goniometer))
        .done()
}

fn limits(limits: &Limits) -> Value {
    let kpa = |it: Pressure| format!("{} kPa", tidy(it.to_kpa()));
    Group::new()
        .put_if("skin_plan", limits.skin_plan.map(kpa))
        .put_if("skin_warn", limits.skin_warn.map(kpa))
        .put_if("skin_stop", limits.skin_stop.map(kpa))
        .put("crimp_efficiency", limits.crimp_efficiency)
        .put("wet_strength", limits.wet_strength)
        .put("line_safety", limits.line_safety)
        .text("hook_shear", kpa(limits.hook_shear))
        .put("hook_safety", limits.hook_safety)
        .text("line_modulus", kpa(limits.line_modulus))
        .put("friction", limits.friction)
        .done()
}

fn stock(stock: &Stock) -> Value {
    let line = |it: &StockLine| {
        Group::new().text("diameter", mm(it.diameter)).text("strength", newtons(it.strength)).done()
    };
    Group::new()
        .put_if("lines", (!stock.lines.is_empty()).then(|| list(&stock.lines, line)))
        .put_if(
            "hook_widths",
            (!stock.hook_widths.is_empty()).then(|| list(&stock.hook_widths, |it| mm(*it).into())),
        )
        .done()
}

fn decision(decision: &Override) -> Value {
    Group::new()
        .text("finding", &decision.finding)
        .text("by", &decision.by)
        .text("date", decision.date)
        .text("why", &decision.why)
        .done()
}

/// A mapping under construction.
struct Group(Mapping);

impl Group {
    fn new() -> Self {
        Self(Mapping::new())
    }

    fn put(mut self, key: &str, value: impl Into<Value>) -> Self {
        self.0.insert(key.into(), value.into());
        self
    }

    fn put_if(self, key: &str, value: Option<impl Into<Value>>) -> Self {
        match value {
            Some(value) => self.put(key, value),
            None => self,
        }
    }

    fn text(self, key: &str, text: impl ToString) -> Self {
        self.put(key, text.to_string())
    }

    /// The group, where anything stands in it.
    fn given(self) -> Option<Value> {
        (!self.0.is_empty()).then(|| self.done())
    }

    fn done(self) -> Value {
        Value::Mapping(self.0)
    }
}

fn list<T>(items: &[T], write: impl Fn(&T) -> Value) -> Value {
    Value::Sequence(items.iter().map(write).collect())
}

fn mm(length: Length) -> String {
    format!("{} mm", tidy(length.to_mm()))
}

fn mm2(area: Area) -> String {
    format!("{} mm2", tidy(area.to_mm2()))
}

fn newtons(force: Force) -> String {
    format!("{} N", tidy(force.to_newtons()))
}

/// Whole degrees as a whole number.
fn degrees(angle: Angle) -> Value {
    let value = tidy(angle.to_degrees());
    if value.fract() == 0.0 { Value::from(value as i64) } else { Value::from(value) }
}

/// Rounded to a billionth, so that a unit conversion leaves no tail of digits.
fn tidy(value: f64) -> f64 {
    (value * 1e9).round() / 1e9
}
