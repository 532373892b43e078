//! The open texts and the sites that they belong to.
//!
//! A file belongs to the site in whose folder it is, or to one that includes it; a site is read again when somebody asks
//! about it after a text of it has changed. What is on the disk comes through [`Disk`], and what is open lies over it.

use std::collections::BTreeMap;

use lsp_types::{Location, Range, Uri};

use super::text::{Encoding, Lines};
use super::uri;
use crate::base::{FileId, SourceFile, Span};
use crate::register_file;
use crate::resolve::load::{FileSource, ReadFault, SITE_FILE};
use crate::resolve::text::Remembered;
use crate::session::{self, Study};
use crate::syntax;

/// What the server wants of the system.
pub trait Disk {
    /// True where there is a file.
    fn has_file(&self, path: &str) -> bool;

    /// The files of the site in a folder; `None` where there is no such folder.
    fn site(&self, folder: &str) -> Option<Box<dyn FileSource + '_>>;
}

/// A text that an editor has open.
#[derive(Clone, Debug)]
pub(crate) struct Open {
    /// Its address as the editor writes it.
    pub(crate) uri: Uri,
    /// Counts its changes.
    pub(crate) version: i32,
    /// Its text.
    pub(crate) text: String,
}

/// A site, or a file that no site is known for.
#[derive(Debug, Default)]
pub(crate) struct Known {
    /// What is known of it.
    pub(crate) study: Study,
    /// True where a text has changed since.
    stale: bool,
    /// What was made of its files.
    remembered: Remembered,
}

/// The open texts by path, and the sites by folder. A text without a path goes by its address.
pub(crate) struct Sites {
    disk: Box<dyn Disk>,
    pub(crate) encoding: Encoding,
    open: BTreeMap<String, Open>,
    by_folder: BTreeMap<String, Known>,
    /// Files that no site is known for, by path.
    alone: BTreeMap<String, Known>,
}

/// A file of a site.
#[derive(Clone, Copy)]
pub(crate) struct FileOf<'s> {
    /// The site's folder; that of the file where no site is known.
    pub(crate) folder: &'s str,
    /// What is known.
    pub(crate) study: &'s Study,
    /// The file.
    pub(crate) id: FileId,
    /// Its text, as it was read.
    pub(crate) file: &'s SourceFile,
}

impl Sites {
    pub(crate) fn new(disk: Box<dyn Disk>) -> Self {
        let (encoding, open) = (Encoding::default(), BTreeMap::new());
        Self { disk, encoding, open, by_folder: BTreeMap::new(), alone: BTreeMap::new() }
    }

    /// How a text is known here.
    pub(crate) fn key(uri: &Uri) -> String {
        uri::path_of(uri.as_str()).unwrap_or_else(|| uri.as_str().to_owned())
    }

    /// An open text.
    pub(crate) fn text(&self, key: &str) -> Option<&Open> {
        self.open.get(key)
    }

    /// Every open text.
    pub(crate) fn open_texts(&self) -> impl Iterator<Item = (&String, &Open)> {
        self.open.iter()
    }

    /// Takes a text that was opened, and finds the site that it belongs to.
    pub(crate) fn open(&mut self, key: String, open: Open) {
        self.open.insert(key.clone(), open);
        // A file that makes its folder a site may be new.
        self.settle_homes();
        self.changed(&key);
    }

    /// Changes an open text; false where it is not open.
    pub(crate) fn edit(&mut self, key: &str, edit: impl FnOnce(&mut Open, Encoding)) -> bool {
        let encoding = self.encoding;
        let Some(open) = self.open.get_mut(key) else { return false };
        edit(open, encoding);
        self.changed(key);
        true
    }

    /// Lets go of a text, and of a site of which nothing is open any more.
    pub(crate) fn close(&mut self, key: &str) {
        self.open.remove(key);
        self.changed(key);
        self.settle_homes();
    }

    /// Notes that something has changed on the disk, or that what is known may be wrong.
    pub(crate) fn forget_all(&mut self) {
        self.settle_homes();
        self.by_folder.values_mut().chain(self.alone.values_mut()).for_each(|known| known.stale = true);
    }

    /// The folder of the site that a file is in: the nearest above it that holds a `site.kdl`.
    fn home(&self, key: &str) -> Option<String> {
        let mut folder = key;
        loop {
            folder = folder.rsplit_once('/')?.0;
            let first = format!("{folder}/{SITE_FILE}");
            if self.open.contains_key(&first) || self.disk.has_file(&first) {
                return Some(folder.to_owned());
            }
        }
    }

    /// Keeps the sites of which something is open, and no others.
    fn settle_homes(&mut self) {
        let homes: Vec<String> = self.open.keys().filter_map(|key| self.home(key)).collect();
        self.by_folder.retain(|folder, _| homes.contains(folder));
        for home in homes {
            self.by_folder.entry(home).or_insert_with(|| Known { stale: true, ..Known::default() });
        }
        self.alone.retain(|key, _| self.open.contains_key(key));
    }

    /// Notes that a text has changed.
    fn changed(&mut self, key: &str) {
        for (folder, known) in &mut self.by_folder {
            let shared = uri::join(folder, "../parts/");
            known.stale |= [folder.as_str(), shared.as_str()]
                .iter()
                .any(|folder| key.strip_prefix(*folder).is_some_and(|rest| rest.starts_with('/')));
        }
        if let Some(known) = self.alone.get_mut(key) {
            known.stale = true;
        }
    }

    /// Reads again what has changed.
    pub(crate) fn refresh(&mut self) {
        let stale: Vec<String> =
            self.by_folder.iter().filter(|(_, known)| known.stale).map(|(folder, _)| folder.clone()).collect();
        for folder in stale {
            let Some(known) = self.by_folder.get_mut(&folder) else { continue };
            // Should reading it fail, it is not tried again before something changes.
            known.stale = false;
            let mut remembered = std::mem::take(&mut known.remembered);
            remembered.turn();
            let study = session::study(&Overlay { remembered: Some(&remembered), ..self.files(&folder) });
            self.by_folder.insert(folder, Known { study, stale: false, remembered });
        }
        let left: Vec<String> = self.open.keys().filter(|key| self.in_sites(key).next().is_none()).cloned().collect();
        self.alone.retain(|key, _| left.contains(key));
        for key in left {
            if self.alone.get(&key).is_some_and(|known| !known.stale) {
                continue;
            }
            let Some(open) = self.open.get(&key) else { continue };
            let study = session::study_alone(last_step(&key), open.text.clone().into_bytes());
            self.alone.insert(key, Known { study, ..Known::default() });
        }
    }

    /// The files of a site, those that are open as they are in the editor.
    pub(crate) fn files<'s>(&'s self, folder: &'s str) -> Overlay<'s> {
        Overlay { folder, disk: self.disk.site(folder), open: &self.open, remembered: None }
    }

    /// The sites that have a file, each with it.
    fn in_sites<'s>(&'s self, key: &str) -> impl Iterator<Item = FileOf<'s>> {
        self.by_folder.iter().filter_map(move |(folder, known)| {
            let of = |(id, file)| FileOf { folder, study: &known.study, id, file };
            known.study.sources().entries().find(|(_, file)| uri::join(folder, &file.in_site) == key).map(of)
        })
    }

    /// A file with what is known of it, as of the last [`Self::refresh`].
    pub(crate) fn file<'s>(&'s self, key: &str) -> Option<FileOf<'s>> {
        self.in_sites(key).next().or_else(|| {
            let (key, known) = self.alone.get_key_value(key)?;
            let (id, file) = known.study.sources().entries().next()?;
            let folder = key.rsplit_once('/').map_or("", |(folder, _)| folder);
            Some(FileOf { folder, study: &known.study, id, file })
        })
    }

    /// True for an open file that no site is known for.
    pub(crate) fn is_alone(&self, key: &str) -> bool {
        self.alone.contains_key(key)
    }

    /// Everything that is known, with the folder that its paths start from.
    pub(crate) fn studies(&self) -> impl Iterator<Item = (&str, &Study)> {
        let sites = self.by_folder.iter().map(|(folder, known)| (folder.as_str(), &known.study));
        let alone = self.alone.iter();
        sites.chain(alone.map(|(key, known)| (key.rsplit_once('/').map_or("", |(folder, _)| folder), &known.study)))
    }

    /// The path of a file of a study.
    pub(crate) fn path(&self, folder: &str, file: &SourceFile) -> String {
        // A text without a path has a name and no folder.
        let is_it = |key: &&String| folder.is_empty() && last_step(key) == file.in_site;
        self.alone.keys().find(is_it).cloned().unwrap_or_else(|| uri::join(folder, &file.in_site))
    }

    /// The address of a file: as the editor writes it, where it is open.
    pub(crate) fn uri(&self, path: &str) -> Option<Uri> {
        self.open.get(path).map(|open| open.uri.clone()).or_else(|| uri::of_path(path))
    }

    /// A place of a study's file.
    pub(crate) fn location(&self, folder: &str, study: &Study, span: Span) -> Option<Location> {
        let file = study.sources().get(span.file)?;
        Some(Location { uri: self.uri(&self.path(folder, file))?, range: self.range(file, span) })
    }

    /// A range of a file.
    pub(crate) fn range(&self, file: &SourceFile, span: Span) -> Range {
        Lines::new(&file.text, self.encoding).range(span.start, span.end)
    }
}

/// The name of a file, without its folders.
fn last_step(key: &str) -> &str {
    key.rsplit('/').next().unwrap_or(key)
}

/// The files of a site with open texts over them.
pub(crate) struct Overlay<'s> {
    folder: &'s str,
    disk: Option<Box<dyn FileSource + 's>>,
    open: &'s BTreeMap<String, Open>,
    remembered: Option<&'s Remembered>,
}

impl FileSource for Overlay<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        let Some(open) = self.open.get(&uri::join(self.folder, path)) else {
            return self.disk.as_ref().map_or(Err(ReadFault::Missing), |disk| disk.read(path));
        };
        let most = if path == register_file::FILE { register_file::LARGEST } else { syntax::LARGEST };
        if open.text.len() > most {
            return Err(ReadFault::TooLarge(open.text.len() as u64));
        }
        Ok(open.text.clone().into_bytes())
    }

    fn spec_files(&self) -> Vec<String> {
        self.disk.as_ref().map(|disk| disk.spec_files()).unwrap_or_default()
    }

    fn remembered(&self) -> Option<&Remembered> {
        self.remembered
    }
}
