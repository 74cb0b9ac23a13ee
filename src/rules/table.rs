//! Entries of one section by id and by index. Indices are typed, so that a cause can't be looked
//! up among the findings.

use std::marker::PhantomData;
use std::ops::{Index, IndexMut};

use indexmap::IndexMap;

/// The index of an entry in its section.
pub trait TypedIndex: Copy {
    fn from_index(index: usize) -> Self;
    fn index(self) -> usize;
}

macro_rules! indices {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(usize);

        impl TypedIndex for $name {
            fn from_index(index: usize) -> Self {
                Self(index)
            }
            fn index(self) -> usize {
                self.0
            }
        }
    )*};
}

indices! {
    ComplaintId;
    CarStateId;
    SetupId;
    InstrumentId;
    QuestionId;
    WorkingId;
    CurveId;
    DrawingId;
    ReadingId;
    FindingId;
    CauseId;
    RepairId;
    CautionId;
    StepId;
    SourceId;
}

/// The entries of one section, in the order of the files.
#[derive(Debug, Clone)]
pub struct Table<I, T> {
    entries: IndexMap<String, T>,
    index: PhantomData<I>,
}

impl<I, T> Default for Table<I, T> {
    fn default() -> Self {
        Self { entries: IndexMap::new(), index: PhantomData }
    }
}

impl<I: TypedIndex, T> Table<I, T> {
    /// Adds an entry behind the others.
    pub(crate) fn push(&mut self, id: String, entry: T) {
        self.entries.insert(id, entry);
    }

    #[must_use]
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// The index of an id.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<I> {
        self.entries.get_index_of(id).map(I::from_index)
    }

    /// The id at an index.
    #[must_use]
    pub fn id(&self, index: I) -> &str {
        self.entries.get_index(index.index()).map_or("", |(id, _)| id)
    }

    /// The ids at some indices.
    #[must_use]
    pub fn ids_at(&self, indices: &[I]) -> Vec<String> {
        indices.iter().map(|index| self.id(*index).to_owned()).collect()
    }

    /// All ids, in order.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.entries.keys().map(String::as_str)
    }

    /// All indices, in order.
    pub fn indices(&self) -> impl Iterator<Item = I> + use<I, T> {
        (0..self.entries.len()).map(I::from_index)
    }

    /// All entries with their indices, in order.
    pub fn iter(&self) -> impl Iterator<Item = (I, &T)> {
        self.entries.values().enumerate().map(|(index, entry)| (I::from_index(index), entry))
    }
}

impl<I: TypedIndex, T> Index<I> for Table<I, T> {
    type Output = T;

    /// Indices are only handed out by the table they index.
    fn index(&self, index: I) -> &T {
        &self.entries[index.index()]
    }
}

impl<I: TypedIndex, T> IndexMut<I> for Table<I, T> {
    fn index_mut(&mut self, index: I) -> &mut T {
        &mut self.entries[index.index()]
    }
}
