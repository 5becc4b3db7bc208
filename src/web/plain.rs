//! A view's value as plain JavaScript: objects, lists, texts, numbers, and null for what is not there.
//!
//! Every view is written by code of its own, so what that code calls at each member counts: here it is one small function
//! that cannot fail. A library's writer, which can, made the page 3.3 KB heavier (brotli).

use std::cell::RefCell;
use std::fmt::{Debug, Display, Formatter};

use js_sys::{Array, JsString, Object};
use serde::ser::{self, Impossible, Serialize, Serializer};
use wasm_bindgen::prelude::*;

/// A view's value as a plain object.
pub(super) fn object<T: Serialize + ?Sized>(value: &T) -> JsValue {
    let mut writer = Writer { open: Vec::new(), written: JsValue::NULL };
    let Ok(()) = value.serialize(&mut writer);
    writer.written
}

#[wasm_bindgen]
extern "C" {
    /// An object whose members are set without asking whether they may be.
    type Members;

    #[wasm_bindgen(method, indexing_setter)]
    fn set(this: &Members, name: &JsString, value: &JsValue);
}

/// What is being written, from the outside in.
struct Writer {
    open: Vec<Open>,
    written: JsValue,
}

/// A value that is not finished.
enum Open {
    List(Array),
    /// An object, with the name of the member that comes next.
    Struct(Members, &'static str),
    /// The same where names are only known while it is written.
    Map(Members, JsString),
}

thread_local! {
    /// Names as JavaScript has them, in the order of where they stand in memory: they are always the same ones, and to make one
    /// takes long.
    static NAMES: RefCell<Vec<(&'static str, JsString)>> = const { RefCell::new(Vec::new()) };
}

/// Uses a name as JavaScript has it.
fn with_name(name: &'static str, uses: &mut dyn FnMut(&JsString)) {
    NAMES.with_borrow_mut(|known| {
        let place = |(other, _): &(&str, JsString)| (other.as_ptr().addr(), other.len());
        let at = known.binary_search_by_key(&(name.as_ptr().addr(), name.len()), place).unwrap_or_else(|at| {
            known.insert(at, (name, JsString::from(name)));
            at
        });
        uses(&known[at].1);
    });
}

impl Writer {
    /// Puts a finished value where it belongs.
    #[inline(never)]
    fn put(&mut self, value: &JsValue) {
        match self.open.last() {
            None => self.written = value.clone(),
            Some(Open::List(list)) => {
                list.push(value);
            }
            Some(Open::Struct(members, name)) => with_name(name, &mut |name| members.set(name, value)),
            Some(Open::Map(members, name)) => members.set(name, value),
        }
    }

    #[inline(never)]
    fn number(&mut self, value: f64) {
        self.put(&JsValue::from_f64(value));
    }

    #[inline(never)]
    fn text(&mut self, value: &str) {
        self.put(&JsValue::from_str(value));
    }

    #[inline(never)]
    fn key(&mut self, value: &'static str) {
        with_name(value, &mut |name| self.put(name));
    }

    #[inline(never)]
    fn begin_list(&mut self) {
        self.open.push(Open::List(Array::new()));
    }

    #[inline(never)]
    fn begin_struct(&mut self) {
        self.open.push(Open::Struct(Object::new().unchecked_into(), ""));
    }

    #[inline(never)]
    fn name(&mut self, next: &'static str) {
        if let Some(Open::Struct(_, name)) = self.open.last_mut() {
            *name = next;
        }
    }

    /// Finishes the innermost value.
    #[inline(never)]
    fn end(&mut self) {
        match self.open.pop() {
            Some(Open::List(list)) => self.put(&list),
            Some(Open::Struct(members, _) | Open::Map(members, _)) => self.put(&members),
            None => {}
        }
    }
}

/// Nothing here fails.
enum Never {}

impl Debug for Never {
    fn fmt(&self, _: &mut Formatter) -> std::fmt::Result {
        match *self {}
    }
}

impl Display for Never {
    fn fmt(&self, _: &mut Formatter) -> std::fmt::Result {
        match *self {}
    }
}

impl std::error::Error for Never {}

impl ser::Error for Never {
    fn custom<T: Display>(_: T) -> Never {
        unreachable!("a view has said that it cannot be written")
    }
}

type Written = Result<(), Never>;

/// A view's variants are keys, or untagged.
const NO_VARIANT: &str = "no view has a variant that holds something under its name";

/// Methods that write a number.
macro_rules! numbers {
    ($($name:ident: $number:ty),*) => {
        $(fn $name(self, value: $number) -> Written {
            self.number(value as f64);
            Ok(())
        })*
    };
}

impl<'w> Serializer for &'w mut Writer {
    type Ok = ();
    type Error = Never;
    type SerializeSeq = &'w mut Writer;
    type SerializeTuple = &'w mut Writer;
    type SerializeTupleStruct = &'w mut Writer;
    type SerializeTupleVariant = Impossible<(), Never>;
    type SerializeMap = &'w mut Writer;
    type SerializeStruct = &'w mut Writer;
    type SerializeStructVariant = Impossible<(), Never>;

    numbers! {
        serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_i64: i64,
        serialize_u8: u8, serialize_u16: u16, serialize_u32: u32, serialize_u64: u64,
        serialize_f32: f32, serialize_f64: f64
    }

    fn serialize_bool(self, value: bool) -> Written {
        self.put(&JsValue::from_bool(value));
        Ok(())
    }

    fn serialize_char(self, value: char) -> Written {
        self.text(value.encode_utf8(&mut [0; 4]));
        Ok(())
    }

    fn serialize_str(self, value: &str) -> Written {
        self.text(value);
        Ok(())
    }

    fn serialize_bytes(self, value: &[u8]) -> Written {
        self.collect_seq(value)
    }

    fn serialize_none(self) -> Written {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Written {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Written {
        self.put(&JsValue::NULL);
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Written {
        self.serialize_unit()
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, variant: &'static str) -> Written {
        self.key(variant);
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Written {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Written {
        panic!("{NO_VARIANT}")
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<&'w mut Writer, Never> {
        self.begin_list();
        Ok(self)
    }

    fn serialize_tuple(self, _: usize) -> Result<&'w mut Writer, Never> {
        self.begin_list();
        Ok(self)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<&'w mut Writer, Never> {
        self.begin_list();
        Ok(self)
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Impossible<(), Never>, Never> {
        panic!("{NO_VARIANT}")
    }

    fn serialize_map(self, _: Option<usize>) -> Result<&'w mut Writer, Never> {
        self.open.push(Open::Map(Object::new().unchecked_into(), JsString::from("")));
        Ok(self)
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<&'w mut Writer, Never> {
        self.begin_struct();
        Ok(self)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Impossible<(), Never>, Never> {
        panic!("{NO_VARIANT}")
    }
}

/// Lists and what is like them.
macro_rules! lists {
    ($($like:ident: $item:ident),*) => {
        $(impl ser::$like for &mut Writer {
            type Ok = ();
            type Error = Never;

            fn $item<T: Serialize + ?Sized>(&mut self, value: &T) -> Written {
                value.serialize(&mut **self)
            }

            fn end(self) -> Written {
                Writer::end(self);
                Ok(())
            }
        })*
    };
}

lists! { SerializeSeq: serialize_element, SerializeTuple: serialize_element, SerializeTupleStruct: serialize_field }

impl ser::SerializeMap for &mut Writer {
    type Ok = ();
    type Error = Never;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Written {
        let key = object(key);
        if let Some(Open::Map(_, name)) = self.open.last_mut() {
            *name = key.unchecked_into();
        }
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Written {
        value.serialize(&mut **self)
    }

    fn end(self) -> Written {
        Writer::end(self);
        Ok(())
    }
}

impl ser::SerializeStruct for &mut Writer {
    type Ok = ();
    type Error = Never;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, name: &'static str, value: &T) -> Written {
        self.name(name);
        value.serialize(&mut **self)
    }

    fn end(self) -> Written {
        Writer::end(self);
        Ok(())
    }
}
