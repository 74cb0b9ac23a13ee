//! Entries of one section by id and by place. Places are typed, so that a cause can't be looked
//! up among the findings.

use std::marker::PhantomData;
use std::ops::{Index, IndexMut};

use indexmap::IndexMap;

/// The place of an entry in its section.
pub trait Place: Copy {
    fn from_index(index: usize) -> Self;
    fn index(self) -> usize;
}

macro_rules! places {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(usize);

        impl Place for $name {
            fn from_index(index: usize) -> Self {
                Self(index)
            }
            fn index(self) -> usize {
                self.0
            }
        }
    )*};
}

places! {
    ComplaintId;
    CarStateId;
    SetupId;
    InstrumentId;
    QuestionId;
    WorkingId;
    CurveId;
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
pub struct Table<P, T> {
    entries: IndexMap<String, T>,
    place: PhantomData<P>,
}

impl<P, T> Default for Table<P, T> {
    fn default() -> Self {
        Self { entries: IndexMap::new(), place: PhantomData }
    }
}

impl<P: Place, T> Table<P, T> {
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

    /// The place of an id.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<P> {
        self.entries.get_index_of(id).map(P::from_index)
    }

    /// The id at a place.
    #[must_use]
    pub fn id(&self, place: P) -> &str {
        self.entries.get_index(place.index()).map_or("", |(id, _)| id)
    }

    /// All ids, in order.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.entries.keys().map(String::as_str)
    }

    /// All places, in order.
    pub fn places(&self) -> impl Iterator<Item = P> + use<P, T> {
        (0..self.entries.len()).map(P::from_index)
    }

    /// All entries with their places, in order.
    pub fn iter(&self) -> impl Iterator<Item = (P, &T)> {
        self.entries.values().enumerate().map(|(index, entry)| (P::from_index(index), entry))
    }
}

impl<P: Place, T> Index<P> for Table<P, T> {
    type Output = T;

    /// Places are only handed out by the table they index.
    fn index(&self, place: P) -> &T {
        &self.entries[place.index()]
    }
}

impl<P: Place, T> IndexMut<P> for Table<P, T> {
    fn index_mut(&mut self, place: P) -> &mut T {
        &mut self.entries[place.index()]
    }
}
