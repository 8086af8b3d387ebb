//! How the three tables are written: a member, its words, its row, side by side.

/// An enumeration whose members have words and a row of data each, and a set of its members. The words
/// are the documentation of the member too.
macro_rules! table {
    (
        $(#[$about:meta])* $name:ident,
        $(#[$about_set:meta])* $set:ident,
        $row:ty: $($member:ident, $words:literal, $data:expr;)+
    ) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "kebab-case")]
        pub enum $name { $(#[doc = $words] $member,)+ }

        impl $name {
            /// All of them, in the order of the table.
            pub const ALL: [$name; [$($words),+].len()] = [$($name::$member),+];

            const WORDS: [&'static str; Self::ALL.len()] = [$($words),+];

            const ROWS: [$row; Self::ALL.len()] = [$($data),+];

            /// What is shown.
            pub fn words(self) -> &'static str {
                Self::WORDS.get(self as usize).copied().unwrap_or_default()
            }

            fn row(self) -> &'static $row {
                // There are as many rows as members.
                Self::ROWS.get(self as usize).unwrap_or(&Self::ROWS[0])
            }
        }

        impl core::fmt::Display for $name {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.write_str(self.words())
            }
        }

        $(#[$about_set])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
        pub struct $set(u32);

        impl $set {
            /// These.
            pub const fn of(members: &[$name]) -> Self {
                let (mut set, mut rest) = ($set(0), members);
                while let [first, others @ ..] = rest {
                    set = set.and(*first);
                    rest = others;
                }
                set
            }

            /// These and one more.
            pub const fn and(self, member: $name) -> Self {
                $set(self.0 | 1_u32.wrapping_shl(member as u32))
            }

            /// These and those.
            pub const fn or(self, others: Self) -> Self {
                $set(self.0 | others.0)
            }

            /// Whether it is among them.
            pub const fn contains(self, member: $name) -> bool {
                self.0 & 1_u32.wrapping_shl(member as u32) != 0
            }

            /// Whether there are none.
            pub const fn is_empty(self) -> bool {
                self.0 == 0
            }

            /// They, in the order of the table.
            pub fn iter(self) -> impl Iterator<Item = $name> {
                $name::ALL.into_iter().filter(move |&member| self.contains(member))
            }
        }

        /// As a list of their names.
        impl Serialize for $set {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_seq(self.iter())
            }
        }
    };
}

pub(super) use table;
