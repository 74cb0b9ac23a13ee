//! The form in which kinds of faults are written down: an entry for each, with what is known of it,
//! its code and its words.

/// An enum of kinds of faults from a table of them, for whoever has `FaultKind`, `Told` and `Code` in
/// scope: `Kind { field: Type } => severity Code message, help`, and the label where there is one.
macro_rules! fault_table {
    (
        $(#[$about:meta])*
        $name:ident;
        $(
            $(#[$note:meta])*
            $kind:ident $({ $($field:ident: $type:ty),* })?
                => $severity:ident $code:ident $message:expr, $help:expr $(, $label:expr)?;
        )*
    ) => {
        $(#[$about])*
        #[derive(Debug, Clone, PartialEq)]
        pub enum $name {
            $($(#[$note])* $kind $({ $($field: $type),* })?,)*
        }

        impl FaultKind for $name {
            fn told(&self) -> Told {
                match self {
                    $(
                        Self::$kind $({ $($field),* })? => {
                            Told::$severity(Code::$code, $message, $help)$(.labelled($label))?
                        }
                    )*
                }
            }
        }
    };
}

pub(crate) use fault_table;
