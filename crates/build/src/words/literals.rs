//! String literals of one Rust file that the program may say, outside its tests.
//!
//! The file is read as Rust, not searched: where a literal stands decides what becomes of it.

use anyhow::{Context, Result};
use proc_macro2::{TokenStream, TokenTree};
use syn::parse::Parser;
use syn::punctuated::Punctuated;
use syn::visit::{self, Visit};
use syn::{Attribute, Expr, ExprLit, ExprMethodCall, Item, Lit, LitStr, Macro, Token};

/// A literal as it is written, and whether its braces are places of a format string.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Said {
    pub(crate) text: String,
    pub(crate) format: bool,
}

/// Macros whose texts nobody reads but who mends the program.
const SILENT: [&str; 13] = [
    "assert",
    "assert_eq",
    "assert_ne",
    "debug_assert",
    "debug_assert_eq",
    "debug_assert_ne",
    "panic",
    "todo",
    "unimplemented",
    "unreachable",
    "include_str",
    "include_bytes",
    "env",
];
/// Macros whose first literal is a format string.
const FORMATS: [&str; 5] = ["format", "format_args", "write", "writeln", "print"];

/// All that a file may say, in the order of the file.
pub(crate) fn literals(source: &str) -> Result<Vec<Said>> {
    let file = syn::parse_file(source).context("it is not Rust")?;
    let mut found = Found::default();
    if !only_for_tests(&file.attrs) {
        found.visit_file(&file);
    }
    Ok(found.said)
}

/// Whether `#[test]`, or a `#[cfg(…)]` that asks for `test`, stands before it.
fn only_for_tests(attributes: &[Attribute]) -> bool {
    fn asks(tokens: TokenStream) -> bool {
        let mut negated = false;
        tokens.into_iter().any(|token| match token {
            TokenTree::Ident(word) => {
                negated = word == "not";
                word == "test"
            }
            TokenTree::Group(group) => !std::mem::take(&mut negated) && asks(group.stream()),
            _ => false,
        })
    }
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("test")
            || attribute.path().is_ident("cfg")
                && attribute
                    .meta
                    .require_list()
                    .is_ok_and(|list| asks(list.tokens.clone()))
    })
}

#[derive(Default)]
struct Found {
    said: Vec<Said>,
}

impl Found {
    fn take(&mut self, literal: &LitStr, format: bool) {
        self.said.push(Said {
            text: literal.value(),
            format,
        });
    }
}

impl<'ast> Visit<'ast> for Found {
    /// Attributes hold docs, reasons and names of fields.
    fn visit_attribute(&mut self, _: &'ast Attribute) {}

    fn visit_item(&mut self, item: &'ast Item) {
        let attributes = match item {
            Item::Const(it) => &it.attrs,
            Item::Fn(it) => &it.attrs,
            Item::Impl(it) => &it.attrs,
            Item::Mod(it) => &it.attrs,
            Item::Static(it) => &it.attrs,
            Item::Struct(it) => &it.attrs,
            _ => return visit::visit_item(self, item),
        };
        if !only_for_tests(attributes) {
            visit::visit_item(self, item);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if !only_for_tests(&item.attrs) {
            visit::visit_impl_item_fn(self, item);
        }
    }

    fn visit_lit_str(&mut self, literal: &'ast LitStr) {
        self.take(literal, false);
    }

    fn visit_expr_method_call(&mut self, call: &'ast ExprMethodCall) {
        self.visit_expr(&call.receiver);
        if call.method != "expect" {
            for argument in &call.args {
                self.visit_expr(argument);
            }
        }
    }

    fn visit_macro(&mut self, call: &'ast Macro) {
        let name = call
            .path
            .segments
            .last()
            .map(|last| last.ident.to_string())
            .unwrap_or_default();
        if SILENT.contains(&name.as_str()) {
            return;
        }
        let arguments = Punctuated::<Expr, Token![,]>::parse_terminated;
        let Ok(arguments) = arguments.parse2(call.tokens.clone()) else {
            // Not expressions, such as the pattern of `matches!` or a macro of our own.
            self.tokens(call.tokens.clone());
            return;
        };
        let mut format = FORMATS.contains(&name.as_str());
        for argument in &arguments {
            match argument {
                Expr::Lit(ExprLit {
                    lit: Lit::Str(text),
                    ..
                }) if format => {
                    self.take(text, true);
                    format = false;
                }
                other => visit_owned(self, other),
            }
        }
    }
}

/// What a macro was given lives only while it is looked through.
fn visit_owned(found: &mut Found, expression: &Expr) {
    let mut inner = Found::default();
    inner.visit_expr(expression);
    found.said.append(&mut inner.said);
}

impl Found {
    fn tokens(&mut self, tokens: TokenStream) {
        for token in tokens {
            match token {
                TokenTree::Group(group) => self.tokens(group.stream()),
                TokenTree::Literal(literal) => {
                    if let Lit::Str(text) = Lit::new(literal) {
                        self.take(&text, false);
                    }
                }
                _ => {}
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(source: &str) -> Vec<(String, bool)> {
        let said = literals(source).unwrap().into_iter();
        said.map(|it| (it.text, it.format)).collect()
    }

    #[test]
    fn what_tests_attributes_and_panics_say_is_left_out() {
        let source = r#"
            //! docs
            #[doc = "docs"]
            fn said(x: Option<u8>) -> String {
                assert!(x.is_some(), "silent");
                let word = x.expect("silent").to_string();
                format!("one {word} {}", other("two"))
            }
            #[cfg(all(test, feature = "board"))]
            mod tests { fn t() { let _ = "silent"; } }
            #[cfg(not(test))]
            const THREE: &str = "three";
            #[test]
            fn t() { let _ = "silent"; }
        "#;
        let expected = [("one {word} {}", true), ("two", false), ("three", false)];
        assert_eq!(
            texts(source),
            expected.map(|(text, format)| (text.to_owned(), format))
        );
    }

    #[test]
    fn macros_that_are_no_expressions_are_looked_through() {
        let source = r#"fn f(a: &str) -> bool { matches!(a, "one" | "two") }"#;
        assert_eq!(texts(source).len(), 2);
    }
}
