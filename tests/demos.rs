//! The demo sites in memory, as they stand in `specs`.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Mutex, OnceLock};

use loopwright::resolve::load::MemoryFiles;
use loopwright::session;

/// The texts of a packet by name of the file; spaces that do not break count as spaces.
pub type Sheets = BTreeMap<String, String>;

/// The texts of a demo's files, and of the shared parts, by path.
pub fn texts(demo: &str) -> BTreeMap<String, String> {
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let mut texts = BTreeMap::new();
    for (folder, before) in [(demo, ""), ("parts", "../parts/")] {
        for entry in std::fs::read_dir(specs.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_str().unwrap();
            texts.insert(format!("{before}{name}"), std::fs::read_to_string(&path).unwrap());
        }
    }
    texts
}

/// The same as a compilation gets them, each text changed.
pub fn changed(demo: &str, change: impl Fn(String) -> String) -> MemoryFiles {
    MemoryFiles(texts(demo).into_iter().map(|(path, text)| (path, change(text).into_bytes())).collect())
}

/// The same as they stand.
pub fn files(demo: &str) -> MemoryFiles {
    changed(demo, |text| text)
}

/// The packet of some files without errors, with no joined file.
pub fn sheets_of(files: &MemoryFiles) -> Sheets {
    as_texts(session::compile(&[], files).bundle.unwrap().files)
}

/// The packet of a demo, made once for all tests.
pub fn sheets(demo: &'static str) -> &'static Sheets {
    type Made = BTreeMap<&'static str, &'static OnceLock<Sheets>>;
    static MADE: Mutex<Made> = Mutex::new(BTreeMap::new());
    let made = *MADE.lock().unwrap().entry(demo).or_insert_with(|| Box::leak(Box::default()));
    made.get_or_init(|| sheets_of(&files(demo)))
}

/// A packet's files as texts.
pub fn as_texts(files: BTreeMap<String, Vec<u8>>) -> Sheets {
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap().replace('\u{a0}', " ");
    files.into_iter().map(|(name, bytes)| (name, text(bytes))).collect()
}
