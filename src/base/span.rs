//! Where something stands in the source: a file and a range of bytes.
//!
//! Positions inside the compiler are always byte offsets; lines and columns exist only in renderers.

/// A source file of one compilation, by its rank in the canonical order (`site.kdl` first, then by path).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

impl FileId {
    /// The id of a file by its place among the files.
    pub(crate) fn of(at: usize) -> Self {
        Self(u32::try_from(at).unwrap_or(u32::MAX))
    }
}

/// A range of bytes `[start, end)` in one file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub(crate) file: FileId,
    /// First byte.
    pub(crate) start: usize,
    /// One past the last byte.
    pub(crate) end: usize,
}

impl Span {
    /// A span of `[start, end)` in `file`.
    pub(crate) fn new(file: FileId, start: usize, end: usize) -> Self {
        Self { file, start, end: end.max(start) }
    }

    /// The place right behind it, where something can be put in.
    pub(crate) fn behind(self) -> Self {
        Self { start: self.end, ..self }
    }
}

/// A value together with the place it was written at. Two are equal when their values are: another layout of
/// the same text is the same model.
#[derive(Clone, Copy, Debug)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it was written.
    pub(crate) span: Span,
}

impl<T> Spanned<T> {
    /// Joins a value and its place.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// The same place with another value.
    pub(crate) fn map<U>(self, convert: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned { value: convert(self.value), span: self.span }
    }

    /// The same place with a borrowed value.
    pub(crate) fn as_ref(&self) -> Spanned<&T> {
        Spanned { value: &self.value, span: self.span }
    }
}

impl<T: PartialEq> PartialEq for Spanned<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T: Eq> Eq for Spanned<T> {}
