//! A visit under way: what is asked, what the reader says of the file with the answers in it, and the lines to add.

use jiff::ToSpan;
use jiff::civil::Date;

use super::append::{self, Why};
use super::begun::{Answers, Question, asked, in_braces, question};
use super::fault::{Fault, Kind, Place, Remark};
use super::guide::below;
use super::shape::{Key, Shape};
use super::{Case, Direction, Sound, Unsound, normalised};

/// The day the papers are for.
const PREPARED: &str = "case.prepared";
const NEXT_VISIT: &str = "case.next_visit";
const RECHECK: &str = "referral.recheck";

/// How a case file's bytes are read, with whatever lies beside the file.
pub type Reader = Box<dyn Fn(&[u8]) -> Result<Sound, Unsound>>;

/// A sound case file, and the visit that is asked for.
pub struct Visiting {
    text: String,
    reader: Reader,
    case: Case,
    /// Why the file itself cannot take the lines.
    refused: Option<Why>,
    /// The visit's path: `visits[3]`.
    path: String,
}

impl Visiting {
    /// A visit for a file that reads well.
    #[must_use]
    pub fn new(text: &str, case: &Case, reader: Reader) -> Self {
        let path = format!("visits[{}]", case.visits.len() + 1);
        let try_out = [format!("date: {}", case.head.prepared)];
        let refused = append::visit(text, &try_out).err();
        Self { text: text.to_owned(), reader, case: case.clone(), refused, path }
    }

    /// Why the lines must be added by hand, if they must.
    #[must_use]
    pub fn refused(&self) -> Option<&'static str> {
        self.refused
    }

    /// What is asked: the day, the days that it overtakes, then the keys of a visit as the reader has them, but for
    /// marks of a pull that is not made.
    #[must_use]
    pub fn questions(&self) -> Vec<Question> {
        let keys = keys();
        let mut all = asked(&keys, &self.path);
        all.retain(|it| !self.is_of_no_pull(&it.path));
        let overtaken = Self::OVERTAKEN.into_iter().filter_map(question);
        // Where the old day has passed, a new one is needed.
        let needed = overtaken.map(|mut it| {
            it.key.required = true;
            it
        });
        all.splice(1..1, needed);
        all
    }

    fn is_of_no_pull(&self, path: &str) -> bool {
        [Direction::Flexion, Direction::Extension].into_iter().any(|way| {
            path == format!("{}.marks.{}", self.path, way.word())
                && self.case.orthosis.pulls.iter().all(|it| it.direction != way)
        })
    }

    /// The days that a visit may overtake.
    pub(super) const OVERTAKEN: [&'static str; 2] = [NEXT_VISIT, RECHECK];

    /// The path of a key of this visit.
    pub(super) fn below(&self, key: &str) -> String {
        below(&self.path, key)
    }

    /// Whether a question asks for the visit's day.
    #[must_use]
    pub fn asks_day(&self, question: &Question) -> bool {
        question.path == below(&self.path, "date")
    }

    /// Whether a visit of that day is in the file.
    #[must_use]
    pub fn has(&self, day: Date) -> bool {
        self.case.visits.iter().any(|it| it.date() == day)
    }

    /// Whether a question is about a day that the visit does not overtake.
    #[must_use]
    pub fn is_idle(&self, question: &Question, answers: &Answers) -> bool {
        matches!(question.path.as_str(), NEXT_VISIT | RECHECK)
            && !self.overtaken(answers).iter().any(|(path, _, _)| *path == question.path)
    }

    /// The visit's day, once it is answered.
    #[must_use]
    pub fn date(&self, answers: &Answers) -> Option<Date> {
        answers.get(&below(&self.path, "date"))?.parse().ok()
    }

    /// The day that the papers are for from now on, where the visit is after the one in the file.
    fn prepared(&self, answers: &Answers) -> Option<Date> {
        self.date(answers).filter(|it| *it > self.case.head.prepared)
    }

    /// Days that cannot stay because the papers' day moves past them, with the least that may stand there.
    fn overtaken(&self, answers: &Answers) -> Vec<(&'static str, Date, Date)> {
        let Some(day) = self.prepared(answers) else { return Vec::new() };
        let tomorrow = day.saturating_add(1.day());
        let next = self.case.head.next_visit.filter(|it| *it <= day);
        let recheck = self.case.referral.recheck.filter(|it| *it < day);
        let next = next.map(|old| (NEXT_VISIT, old, tomorrow));
        next.into_iter().chain(recheck.map(|old| (RECHECK, old, day))).collect()
    }

    /// The days that change with this visit: key, old day, new day.
    #[must_use]
    pub fn moved(&self, answers: &Answers) -> Vec<(&'static str, Date, Date)> {
        let prepared = self.prepared(answers).map(|new| (PREPARED, self.case.head.prepared, new));
        let answered = |(path, old, least): (&'static str, Date, Date)| {
            let new = answers.get(path).and_then(|it| it.parse().ok());
            (path, old, new.unwrap_or(least))
        };
        prepared.into_iter().chain(self.overtaken(answers).into_iter().map(answered)).collect()
    }

    /// What the reader says of the whole file with the answers so far.
    #[must_use]
    pub fn faults(&self, answers: &Answers) -> Vec<Fault> {
        let mut faults = match (self.reader)(self.tried(answers).as_bytes()) {
            Ok(_) => Vec::new(),
            Err(unsound) => unsound.faults,
        };
        for (key, _, _) in self.overtaken(answers).iter().filter(|it| !answers.holds(it.0)) {
            let accepted = "a day as year-month-day: the one in the file has passed".into();
            let kind = Kind::Missing { key: (*key).into(), accepted };
            faults.push(Fault { place: Place::START, kind });
        }
        faults
    }

    /// What the reader finds odd with the answers so far.
    #[must_use]
    pub fn remarks(&self, answers: &Answers) -> Vec<Remark> {
        match (self.reader)(self.tried(answers).as_bytes()) {
            Ok(sound) => sound.remarks,
            Err(unsound) => unsound.remarks,
        }
    }

    /// The file as it would be; where its own text takes no lines, the same case in the usual form.
    fn tried(&self, answers: &Answers) -> String {
        self.whole(answers).unwrap_or_else(|_| {
            let usual = normalised(&self.case);
            self.grown(&usual, answers).unwrap_or(usual)
        })
    }

    /// The file's text with the visit in it and nothing else changed but the days that move.
    ///
    /// # Errors
    ///
    /// Why the text takes no lines, where it is written in a form of its own.
    pub fn whole(&self, answers: &Answers) -> Result<String, &'static str> {
        self.grown(&self.text, answers)
    }

    fn grown(&self, text: &str, answers: &Answers) -> Result<String, Why> {
        let lines = self.lines(answers);
        let mut text = text.to_owned();
        if lines.is_empty() {
            return Ok(text);
        }
        for (path, old, new) in self.moved(answers) {
            text = append::day(&text, path, old, new)?;
        }
        append::visit(&text, &lines)
    }

    /// The visit's lines, from its first key on.
    #[must_use]
    pub fn lines(&self, answers: &Answers) -> Vec<String> {
        let mut lines = Vec::new();
        for key in &keys() {
            let path = below(&self.path, key.name);
            match &key.shape {
                Shape::Group(keys) => {
                    lines.extend(
                        braces(keys, &path, answers).map(|it| format!("{}: {it}", key.name)),
                    );
                }
                Shape::List { item, .. } if matches!(**item, Shape::Group(_)) => {
                    let Shape::Group(keys) = &**item else { continue };
                    let items =
                        (1..).map_while(|it| braces(keys, &format!("{path}[{it}]"), answers));
                    let items: Vec<String> = items.map(|it| format!("  - {it}")).collect();
                    if !items.is_empty() {
                        lines.push(format!("{}:", key.name));
                        lines.extend(items);
                    }
                }
                _ => lines.extend(answers.get(&path).map(|it| format!("{}: {it}", key.name))),
            }
        }
        lines
    }
}

/// The answered keys of a group on one line; nothing where none is.
fn braces(keys: &[Key], path: &str, answers: &Answers) -> Option<String> {
    let answered = keys.iter().filter_map(|it| {
        let value = answers.get(&below(path, it.name))?;
        Some(format!("{}: {}", it.name, in_braces(value)))
    });
    let answered: Vec<String> = answered.collect();
    (!answered.is_empty()).then(|| format!("{{ {} }}", answered.join(", ")))
}

/// The keys of a visit.
fn keys() -> Vec<Key> {
    let visits = super::outline().into_iter().find(|it| it.name == "visits");
    let Some(Shape::List { item, .. }) = visits.map(|it| it.shape) else { return Vec::new() };
    match *item {
        Shape::Group(keys) => keys,
        _ => Vec::new(),
    }
}
