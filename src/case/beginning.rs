//! A case file under way with the clinic's profile under it: what the profile gives is neither asked nor written.

use std::collections::BTreeMap;

use super::begun::{Answers, Leading, Question, questions, text};
use super::fault::{Fault, Remark, Source};
use super::measured::Written;
use super::profile::{self, FromProfile, Profile};
use super::shape::Shape;
use super::unfinished::Typed;
use super::{Sound, Unsound};

/// Whom a case names, where the profile lists several.
const THERAPIST: &str = "clinic.therapist";

/// What is asked when a file is begun, and the file that holds the answers.
#[derive(Debug, Clone, Default)]
pub struct Beginning {
    /// The profile's bytes, and what it gives.
    profile: Option<(Vec<u8>, FromProfile)>,
    /// How the file names the profile, where it can.
    name: Option<String>,
}

impl Beginning {
    /// With a profile, under the name by which the file will find it, if there is one.
    ///
    /// # Errors
    ///
    /// Every fault of the profile by itself.
    pub fn with(profile: Vec<u8>, name: Option<String>) -> Result<Self, Vec<Fault>> {
        let blank = text(&Answers::default(), &Leading::default());
        let blank = super::tree(blank.as_bytes(), Source::Case).map_err(|it| vec![it])?;
        let joined = profile::join(blank, Profile::Given(&profile));
        let faults = joined.of_profile();
        if !faults.is_empty() {
            return Err(faults);
        }
        let gave = joined.gave.unwrap_or_default();
        Ok(Self { profile: Some((profile, gave)), name })
    }

    /// Whether a case file may name its profile so.
    #[must_use]
    pub fn may_name(name: &str) -> bool {
        let quoted = serde_json::to_string(name).unwrap_or_default();
        super::named_profile(format!("clinic: {quoted}\n").as_bytes()).as_deref() == Some(name)
    }

    fn gives(&self, path: &str) -> bool {
        self.profile.as_ref().is_some_and(|(_, gave)| gave.gave(path))
    }

    /// Keys that need not be asked for, in the file's order.
    #[must_use]
    pub fn given(&self) -> Vec<String> {
        let all = questions().into_iter().map(|it| it.path);
        all.filter(|it| self.gives(it)).collect()
    }

    /// Those who treat, where the profile lists several.
    fn therapists(&self) -> &[String] {
        self.profile.as_ref().map_or(&[], |(_, gave)| &gave.therapists)
    }

    /// What is asked for, in the order of the file.
    #[must_use]
    pub fn questions(&self) -> Vec<Question> {
        let mut all = questions();
        all.retain(|it| !self.gives(&it.path));
        all
    }

    /// What a question takes beyond its form.
    #[must_use]
    pub fn takes(&self, question: &Question) -> Option<String> {
        let is_listed = question.path == THERAPIST && !self.therapists().is_empty();
        is_listed.then(|| format!("One of these, by name: {}.", self.therapists().join("; ")))
    }

    /// The commented file with the answers so far; with none it is the blank.
    #[must_use]
    pub fn text(&self, answers: &Answers) -> String {
        let given = self.given();
        let therapists = self.therapists().join("; ");
        let profile = self.name.as_deref();
        text(answers, &Leading { given: &given, profile, therapists: &therapists })
    }

    /// The answers of a file, and how they were typed, that was begun so and not touched since; nothing where it holds anything else, so that going on
    /// with it loses nothing.
    #[must_use]
    pub fn resumed(&self, bytes: &[u8]) -> Option<(Answers, Typed)> {
        let root = super::tree(bytes, Source::Case).ok()?;
        let written = Written::of(&root, "");
        let mut answers = Answers::default();
        let mut all = Typed::new();
        for question in self.questions() {
            if let Some(typed) = typed(&question, &written) {
                answers.put(&question, &typed);
                all.insert(question.path, typed);
            }
        }
        (self.text(&answers).as_bytes() == bytes).then_some((answers, all))
    }

    fn read(&self, answers: &Answers) -> Result<Sound, Unsound> {
        let text = self.text(answers);
        match &self.profile {
            Some((profile, _)) => super::read_with(text.as_bytes(), Profile::Given(profile)),
            None => super::read(text.as_bytes()),
        }
    }

    /// What the reader says of one key, the rest of the file being as far as it is.
    #[must_use]
    pub fn faults(&self, answers: &Answers) -> Vec<Fault> {
        self.read(answers).err().map_or_else(Vec::new, |it| it.faults)
    }

    /// What the reader finds odd so far.
    #[must_use]
    pub fn remarks(&self, answers: &Answers) -> Vec<Remark> {
        match self.read(answers) {
            Ok(sound) => sound.remarks,
            Err(unsound) => unsound.remarks,
        }
    }
}

/// An answer as it was typed, from the values that stand in the file.
fn typed(question: &Question, written: &BTreeMap<String, String>) -> Option<String> {
    let path = &question.path;
    let Shape::List { item, .. } = &question.key.shape else { return written.get(path).cloned() };
    let place = |number: usize| {
        let at = format!("{path}[{number}]");
        let inner: Vec<(&str, &String)> = written
            .iter()
            .filter_map(|(key, value)| Some((key.strip_prefix(&at)?, value)))
            .collect();
        (!inner.is_empty()).then(|| one(&inner))
    };
    let all: Vec<String> = (1..).map_while(place).collect();
    match (&all[..], &**item) {
        ([], _) => written.get(path).map(|_| "none".to_owned()),
        (all, Shape::Either(_)) => Some(all.join(", ")),
        (all, _) => Some(all.join("; ")),
    }
}

/// One place of a list: a word, other words, or a tendon with its day.
fn one(inner: &[(&str, &String)]) -> String {
    let at = |end: &str| inner.iter().find(|(key, _)| key.ends_with(end)).map(|it| it.1.as_str());
    match (at(".tendon"), at(".date"), at(".other")) {
        (Some(tendon), Some(day), _) => format!("tendon_repair {tendon} {day}"),
        (_, _, Some(words)) => format!("other: {words}"),
        _ => at("").unwrap_or_default().to_owned(),
    }
}
