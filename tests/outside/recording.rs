//! A file of questions with the answers that a program gave to them.
//!
//! `RECORD=1 cargo test recorded` asks the programs and writes the files again. Head lines begin with `#`; after them each
//! line is `question = answer`, in the order in which the comparison asks.

use std::collections::VecDeque;
use std::fs;
use std::path::PathBuf;

/// How the files are made.
const COMMAND: &str = "RECORD=1 cargo test recorded";

/// A recording that is played, or being made.
pub struct Recording {
    path: PathBuf,
    lines: VecDeque<(String, String)>,
    /// The program with its version while a recording is made.
    making: Option<String>,
}

impl Recording {
    /// Opens `tests/recorded/NAME.txt`, or begins it again; `version` is that of the program.
    pub fn open(name: &str, version: impl FnOnce() -> Option<String>) -> Self {
        let path = PathBuf::from(format!("{}/tests/recorded/{name}.txt", env!("CARGO_MANIFEST_DIR")));
        if std::env::var_os("RECORD").is_some() {
            let version = version().unwrap_or_else(|| panic!("the program for {name} is not installed"));
            return Self { path, lines: VecDeque::new(), making: Some(version) };
        }
        let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        Self { path, lines: lines(&text), making: None }
    }

    /// The recorded answers, which must be to these questions; while recording, what `ask` says.
    pub fn answers(&mut self, questions: &[String], ask: impl FnOnce() -> Vec<String>) -> Vec<String> {
        if self.making.is_some() {
            let answers = ask();
            assert_eq!(questions.len(), answers.len());
            self.lines.extend(questions.iter().cloned().zip(answers.iter().cloned()));
            return answers;
        }
        let answer = |question: &String| {
            let (recorded, answer) = self.lines.pop_front().unwrap_or_default();
            let path = self.path.display();
            assert!(
                recorded == *question,
                "{path} answers “{recorded}”, asked is “{question}”: record again by {COMMAND}"
            );
            answer
        };
        questions.iter().map(answer).collect()
    }

    /// Every answer must have been asked for; a recording that is being made is written.
    pub fn finish(self) {
        let Some(version) = self.making else {
            assert!(self.lines.is_empty(), "{} has more answers than asked for", self.path.display());
            return;
        };
        let mut text = format!("# {version}\n# {COMMAND}\n");
        self.lines.iter().for_each(|(question, answer)| text += &format!("{question} = {answer}\n"));
        fs::create_dir_all(self.path.parent().unwrap()).unwrap();
        fs::write(&self.path, text).unwrap();
    }
}

fn lines(text: &str) -> VecDeque<(String, String)> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split_once(" = ").unwrap_or_else(|| panic!("no answer: {line}")))
        .map(|(question, answer)| (question.to_owned(), answer.to_owned()))
        .collect()
}

#[test]
fn only_the_recorded_questions_are_answered() {
    let play = || Recording {
        path: PathBuf::from("made-up"),
        lines: lines("# spice 1\n# how\none = 1\ntwo = 2 3\n"),
        making: None,
    };
    let ask = |questions: &[&str]| {
        let mut recording = play();
        let questions: Vec<String> = questions.iter().map(|question| (*question).to_owned()).collect();
        let answers = recording.answers(&questions, || panic!("the program is not asked"));
        recording.finish();
        answers
    };
    assert_eq!(ask(&["one", "two"]), ["1", "2 3"]);
    for wrong in [&["two", "one"][..], &["one"], &["one", "two", "three"], &["one", "other"]] {
        assert!(std::panic::catch_unwind(|| ask(wrong)).is_err(), "{wrong:?}");
    }
}
