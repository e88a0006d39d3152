//! The clinic's profile and words from disk: named by a case, or given for all cases of a call.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use anstyle::Style;

use super::input::{bytes, folder_of, one_words, plain, typed};
use super::outcome::Outcome;
use super::report::{self, Files};
use super::stuck;
use super::told::{Form, Told};
use crate::case::{self, Beginning, Fault, FromProfile, Profile, Sound};
use crate::sheets::OwnWords;

/// The profile that `--clinic` names: it stands in place of whatever a case names.
#[derive(Debug, Clone, Default)]
pub(super) struct Desk {
    given: Option<(PathBuf, Vec<u8>)>,
}

/// A case that was read, and what lies beside it.
pub(super) struct Known {
    pub(super) sound: Sound,
    /// The profile's file, where there is one.
    pub(super) profile: Option<PathBuf>,
    /// The clinic's own words that the profile names.
    pub(super) words: Vec<OwnWords>,
    /// Files that the case hangs on: the profile, its words.
    pub(super) beside: Vec<PathBuf>,
}

/// A case that could not be read, and the files on which that hangs.
pub(super) struct Unread {
    pub(super) outcome: Outcome,
    pub(super) beside: Vec<PathBuf>,
}

impl Desk {
    /// Reads the file that `--clinic` names, and tells where it cannot be read.
    pub(super) fn of(told: &mut Told, clinic: Option<&Path>) -> Result<Self, Outcome> {
        let Some(path) = clinic else { return Ok(Self::default()) };
        Ok(Self { given: Some((path.to_owned(), bytes(told, path)?)) })
    }

    /// As [`Desk::of`], and says at once what is wrong.
    pub(super) fn said(clinic: Option<&Path>) -> Result<Self, Outcome> {
        let mut told = Told::default();
        let desk = Self::of(&mut told, clinic);
        told.say();
        desk
    }

    /// The profile that was given, and its bytes.
    pub(super) fn given(&self) -> Option<(&Path, &[u8])> {
        self.given.as_ref().map(|(path, bytes)| (path.as_path(), bytes.as_slice()))
    }

    /// Says where a case file and a profile were taken for each other.
    fn tell_other_kind(&self, told: &mut Told, path: &Path, faults: &[Fault]) {
        if let Some((profile, _)) = self.given().filter(|_| stuck::is_a_case(faults)) {
            let why = format!("{} is a case file, not a clinic's profile", profile.display());
            report::failure(told, &why);
        } else if let Some(why) = stuck::rather(path, faults) {
            report::failure(told, &why);
        }
    }

    /// What a next command must be given too.
    pub(super) fn flag(&self) -> String {
        self.given().map_or_else(String::new, |(path, _)| format!(" --clinic {}", typed(path)))
    }

    /// The files in which the places of a case stand, with what a next command must be given too.
    pub(super) fn files<'f>(&self, case: &'f Path, profile: Option<&'f Path>) -> Files<'f> {
        Files { case, profile, is_given: self.given.is_some() }
    }

    /// Reads a file with a profile under it, the one that was given or else the one that the file names; and that
    /// profile's own file.
    pub(super) fn under<T>(
        &self,
        path: &Path,
        read: impl FnOnce(Profile<'_>) -> T,
    ) -> (T, Option<PathBuf>) {
        if let Some((profile, bytes)) = self.given() {
            return (read(Profile::Given(bytes)), Some(profile.to_owned()));
        }
        let mut profile = None;
        let read = read(Profile::Named(&mut |name| {
            let file = path.with_file_name(name);
            profile = Some(file.clone());
            found(path, &file)
        }));
        (read, profile)
    }

    /// Reads a case with the clinic's profile under it, and reports what is wrong or odd in either.
    pub(super) fn read(&self, told: &mut Told, path: &Path) -> Result<Known, Unread> {
        let unread = |outcome, beside: Vec<PathBuf>| Unread { outcome, beside };
        let bytes = super::input::case_bytes(told, path).map_err(|it| unread(it, Vec::new()))?;
        let (read, profile) = self.under(path, |profile| case::read_with(&bytes, profile));
        let mut beside: Vec<PathBuf> = profile.iter().cloned().collect();
        let files = self.files(path, profile.as_deref());
        let sound = match read {
            Ok(sound) => sound,
            Err(unsound) => {
                report::faults(told, files, &unsound.faults);
                self.tell_other_kind(told, path, &unsound.faults);
                report::remarks(told, files, &unsound.remarks);
                return Err(unread(Outcome::Faults, beside));
            }
        };
        report::remarks(told, files, &sound.remarks);
        let named = sound.profile.as_ref().map_or(&[][..], |it| &it.words);
        let from = profile.as_deref().unwrap_or(path);
        beside.extend(named.iter().map(|it| from.with_file_name(it)));
        match words(told, from, sound.profile.as_ref()) {
            Ok(words) => Ok(Known { sound, profile, words, beside }),
            Err(outcome) => Err(unread(outcome, beside)),
        }
    }
}

impl Known {
    /// The file beside which the logo lies.
    pub(super) fn logo_beside<'k>(&'k self, case: &'k Path) -> &'k Path {
        logo_beside(case, self.profile.as_deref(), self.sound.profile.as_ref())
    }

    /// The words given for all cases, and those of the profile for languages that were not given.
    pub(super) fn words(&self, given: &[OwnWords]) -> Vec<OwnWords> {
        with_given(given, &self.words)
    }

    /// Tells what the profile gave.
    pub(super) fn tell(&self, told: &mut Told, case: &Path) {
        let (Some(FromProfile { keys, words, .. }), Some(profile)) =
            (&self.sound.profile, &self.profile)
        else {
            return;
        };
        let own = (!words.is_empty()).then(|| format!("words ({})", words.join(", ")));
        let given: Vec<String> = keys.iter().cloned().chain(own).collect();
        let given = if given.is_empty() { "nothing".into() } else { given.join(", ") };
        let profile = profile.display();
        if told.form() == Form::Lines {
            told.line(&format!("{}: from the clinic's profile {profile}: {given}", case.display()));
        } else {
            told.head("What came from the clinic's profile", Style::new().bold());
            told.line(&format!("{profile}: {given}."));
        }
    }
}

/// The file beside which a logo lies: the profile's where that names it.
pub(super) fn logo_beside<'k>(
    case: &'k Path,
    profile: Option<&'k Path>,
    gave: Option<&FromProfile>,
) -> &'k Path {
    let is_given = gave.is_some_and(|it| it.gave("clinic.logo"));
    profile.filter(|_| is_given).unwrap_or(case)
}

/// The words given for all cases, and a profile's for languages that were not given.
pub(super) fn with_given(given: &[OwnWords], of_profile: &[OwnWords]) -> Vec<OwnWords> {
    let is_given = |it: &&OwnWords| given.iter().any(|given| given.language() == it.language());
    let own = of_profile.iter().filter(|it| !is_given(it));
    given.iter().chain(own).cloned().collect()
}

/// How a case file names a profile, as the reader takes it; nothing where it lies elsewhere.
pub(super) fn name_for(case: &Path, profile: &Path) -> Option<String> {
    let (folder, file) = (folder_of(case).canonicalize().ok()?, profile.canonicalize().ok()?);
    let above = || file.strip_prefix(folder.parent()?).ok().map(|it| (it, "../"));
    let (way, up) = file.strip_prefix(&folder).ok().map(|it| (it, "")).or_else(above)?;
    let parts: Option<Vec<&str>> = way.iter().map(|it| it.to_str()).collect();
    let name = format!("{up}{}", parts?.join("/"));
    Beginning::may_name(&name).then_some(name)
}

/// The bytes of the profile that a case names, or what to do about it; a link out of the folder above is not followed.
fn found(case: &Path, profile: &Path) -> Result<Vec<u8>, String> {
    let shown = profile.display();
    let whole = |path: &Path| {
        path.canonicalize().map_err(|error| {
            format!(
                "cannot read {shown}: {}; put the profile there, or correct its name",
                plain(&error)
            )
        })
    };
    let (folder, file) = (whole(folder_of(case))?, whole(profile)?);
    if !file.starts_with(folder.parent().unwrap_or(&folder)) {
        return Err(format!(
            "{shown} is a link out of the folder above; put the file itself there"
        ));
    }
    super::input::whole(&file).map_err(|why| format!("cannot read {shown}: {why}"))
}

/// The words that a profile names, from its folder; all are read before any is refused.
pub(super) fn words(
    told: &mut Told,
    profile: &Path,
    gave: Option<&FromProfile>,
) -> Result<Vec<OwnWords>, Outcome> {
    let named = gave.map_or(&[][..], |it| &it.words);
    let mut all: Vec<OwnWords> = Vec::new();
    let mut worst = Outcome::Done;
    for name in named {
        let path = profile.with_file_name(name);
        let is_outside = match (path.canonicalize(), folder_of(profile).canonicalize()) {
            (Ok(file), Ok(folder)) => !file.starts_with(folder),
            // What cannot be followed is told when it is read.
            _ => false,
        };
        if is_outside {
            let why = "is a link out of the profile's folder; put the file itself there";
            report::failure(told, &format!("{}: `words`: {name} {why}", profile.display()));
            worst = worst.max(Outcome::Faults);
            continue;
        }
        match one_words(told, &path) {
            Ok(words) if all.iter().any(|it| it.language() == words.language()) => {
                report::failure(
                    told,
                    &format!(
                        "{}: `words`: {name} is a second words file for `{}`; give one for each language",
                        profile.display(),
                        words.language().word()
                    ),
                );
                worst = worst.max(Outcome::Faults);
            }
            Ok(words) => all.push(words),
            Err(outcome) => worst = worst.max(outcome),
        }
    }
    if worst == Outcome::Done { Ok(all) } else { Err(worst) }
}

/// Takes the profiles that cases name, and the words files that those name, out of the files that are passed over.
pub(super) fn leave_out_profiles(cases: &[PathBuf], passed: &mut Vec<PathBuf>) {
    if passed.is_empty() {
        return;
    }
    let mut named: BTreeSet<PathBuf> = BTreeSet::new();
    for case in cases {
        let Some(name) = super::input::whole(case).ok().and_then(|it| case::named_profile(&it))
        else {
            continue;
        };
        let Ok(profile) = folder_of(case).join(name).canonicalize() else { continue };
        if named.insert(profile.clone()) {
            let words = super::input::whole(&profile)
                .map_or_else(|_| Vec::new(), |it| case::named_words(&it));
            let files = words.iter().map(|it| folder_of(&profile).join(it));
            named.extend(files.filter_map(|it| it.canonicalize().ok()));
        }
    }
    passed.retain(|it| !it.canonicalize().is_ok_and(|it| named.contains(&it)));
}
