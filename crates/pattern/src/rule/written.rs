//! How a rule is written in a project: `Below(place: …, drop: …)`, the fields of its
//! struct beside its name.

use serde::de::{Deserializer, Error, VariantAccess, Visitor};
use serde::ser::SerializeStructVariant;

/// The fields of a rule, written one by one.
pub(super) trait Fields {
    /// How many there are.
    const COUNT: usize;

    /// Writes them, in order.
    fn write<V: SerializeStructVariant>(&self, to: &mut V) -> Result<(), V::Error>;
}

/// Defines the struct of a rule with its fields as they are read and written.
macro_rules! rule {
    ($(#[$about:meta])* pub struct $Kind:ident {
        $($(#[$says:meta])* pub $field:ident: $Type:ty,)+
    }) => {
        $(#[$about])*
        #[derive(Debug, Clone, PartialEq, Default, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $Kind {
            $($(#[$says])* pub $field: $Type,)+
        }

        impl $crate::rule::written::Fields for $Kind {
            const COUNT: usize = [$(stringify!($field)),+].len();

            fn write<V: serde::ser::SerializeStructVariant>(
                &self,
                to: &mut V,
            ) -> Result<(), V::Error> {
                $(to.serialize_field(stringify!($field), &self.$field)?;)+
                Ok(())
            }
        }
    };
}
pub(super) use rule;

/// Reads and writes the enum of rules with the fields of each beside its name.
macro_rules! as_struct_variants {
    ($($Kind:ident),+) => {
        impl serde::Serialize for Rule {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                use serde::ser::SerializeStructVariant as _;
                use written::Fields as _;
                match self {
                    $(Self::$Kind(rule) => {
                        let index = Kind::$Kind as u32;
                        let mut to = serializer.serialize_struct_variant(
                            "Rule", index, stringify!($Kind), $Kind::COUNT,
                        )?;
                        rule.write(&mut to)?;
                        to.end()
                    }),+
                }
            }
        }

        #[derive(Clone, Copy, serde::Deserialize)]
        enum Kind { $($Kind),+ }

        impl<'de> serde::Deserialize<'de> for Rule {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                struct Reader;

                impl<'de> serde::de::Visitor<'de> for Reader {
                    type Value = Rule;

                    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                        f.write_str("a rule for a reference line")
                    }

                    fn visit_enum<A: serde::de::EnumAccess<'de>>(
                        self,
                        data: A,
                    ) -> Result<Rule, A::Error> {
                        let (kind, fields) = data.variant()?;
                        let fields = written::FieldsOf(fields);
                        Ok(match kind {
                            $(Kind::$Kind => {
                                Rule::$Kind(<$Kind as serde::Deserialize>::deserialize(fields)?)
                            }),+
                        })
                    }
                }

                from.deserialize_enum("Rule", &[$(stringify!($Kind)),+], Reader)
            }
        }
    };
}
pub(super) use as_struct_variants;

/// Lets a struct be read from the fields beside the name of an enum's variant.
pub(super) struct FieldsOf<A>(pub A);

impl<'de, A: VariantAccess<'de>> Deserializer<'de> for FieldsOf<A> {
    type Error = A::Error;

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, A::Error> {
        self.0.struct_variant(fields, visitor)
    }

    fn deserialize_any<V: Visitor<'de>>(self, _visitor: V) -> Result<V::Value, A::Error> {
        Err(A::Error::custom("a rule is written with the names of its fields"))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf
        option unit unit_struct newtype_struct seq tuple tuple_struct map enum identifier
        ignored_any
    }
}
