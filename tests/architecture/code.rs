//! What is code in a source file, its words and signs, and the names that it takes from the root of the crate.

/// The source with everything but code blanked out: comments, and what stands
/// in strings and characters. Lines stay where they are.
pub fn code_of(source: &str) -> String {
    let text: Vec<char> = source.chars().collect();
    let mut code = String::with_capacity(source.len());
    let mut at = 0;
    let blank = |code: &mut String, from: usize, to: usize| {
        code.extend(text[from..to].iter().map(|&c| if c == '\n' { '\n' } else { ' ' }));
    };
    while at < text.len() {
        let from = at;
        let rest = &text[at..];
        if rest.starts_with(&['/', '/']) {
            at += rest.iter().position(|&c| c == '\n').unwrap_or(rest.len());
            blank(&mut code, from, at);
        } else if rest.starts_with(&['/', '*']) {
            let mut open = 0;
            while at < text.len() {
                if text[at..].starts_with(&['/', '*']) {
                    open += 1;
                    at += 2;
                } else if text[at..].starts_with(&['*', '/']) {
                    open -= 1;
                    at += 2;
                    if open == 0 {
                        break;
                    }
                } else {
                    at += 1;
                }
            }
            blank(&mut code, from, at);
        } else if let Some(hashes) = raw_string(rest).filter(|_| !continues_a_word(&text, at)) {
            let close: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
            at += 2 + hashes;
            while at < text.len() && !text[at..].starts_with(&close) {
                at += 1;
            }
            at = (at + close.len()).min(text.len());
            blank(&mut code, from, at);
        } else if rest[0] == '"' || (rest[0] == '\'' && is_character(rest)) {
            at += 1;
            while at < text.len() && text[at] != rest[0] {
                at += if text[at] == '\\' { 2 } else { 1 };
            }
            at = (at + 1).min(text.len());
            blank(&mut code, from, at);
        } else {
            code.push(text[at]);
            at += 1;
        }
    }
    code
}

/// The number of `#` of a raw string that begins here.
fn raw_string(rest: &[char]) -> Option<usize> {
    if rest[0] != 'r' {
        return None;
    }
    let hashes = rest[1..].iter().take_while(|&&c| c == '#').count();
    (rest.get(1 + hashes) == Some(&'"')).then_some(hashes)
}

fn continues_a_word(text: &[char], at: usize) -> bool {
    at > 0 && (text[at - 1].is_alphanumeric() || text[at - 1] == '_') && text[at - 1] != 'b'
}

/// Whether a quotation mark opens a character rather than a lifetime.
fn is_character(rest: &[char]) -> bool {
    rest.get(1) == Some(&'\\') || rest.get(2) == Some(&'\'')
}

/// Words and signs of the code with their line numbers; `::` is one sign.
pub fn tokens(code: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (number, line) in code.lines().enumerate() {
        let mut rest = line;
        while let Some(first) = rest.chars().next() {
            let word = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            let length = match word {
                0 if rest.starts_with("::") => 2,
                0 => first.len_utf8(),
                length => length,
            };
            if !first.is_whitespace() {
                found.push((number + 1, rest[..length].to_owned()));
            }
            rest = &rest[length..];
        }
    }
    found
}

/// A name that a file takes from the root of the crate.
pub struct FromRoot {
    pub line: usize,
    pub name: String,
    /// Written `crate::`. A chain of `super::` in an inner module, such as
    /// `tests`, may stop short of the root.
    pub certain: bool,
}

/// The names that the code takes from the root of the crate, with their lines:
/// from `crate::name`, `crate::{name, ...}` and `super::` chains that climb as
/// far as the root.
pub fn names_from_root(code: &str, depth: usize) -> Vec<FromRoot> {
    let tokens = tokens(code);
    let sign = |at: usize| tokens.get(at).map_or("", |(_, token)| token.as_str());
    let mut names = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let mut after = at;
        let certain = sign(at) == "crate";
        let mut take = |at: usize| {
            if let Some((line, name)) = tokens.get(at) {
                names.push(FromRoot { line: *line, name: name.clone(), certain });
            }
        };
        let reaches_root = match sign(at) {
            "crate" if sign(at + 1) == "::" => {
                after += 2;
                true
            }
            "super" if sign(at + 1) == "::" => {
                let mut climbed = 0;
                while sign(after) == "super" && sign(after + 1) == "::" {
                    climbed += 1;
                    after += 2;
                }
                climbed >= depth
            }
            _ => false,
        };
        if !reaches_root {
            at = after.max(at + 1);
            continue;
        }
        if sign(after) == "{" {
            let mut open = 0;
            let mut begins = false;
            loop {
                match sign(after) {
                    "{" => {
                        open += 1;
                        begins = open == 1;
                    }
                    "}" => open -= 1,
                    "," => begins = open == 1,
                    "" => break,
                    _ if begins => {
                        take(after);
                        begins = false;
                    }
                    _ => {}
                }
                after += 1;
                if open == 0 {
                    break;
                }
            }
        } else {
            take(after);
        }
        at = after.max(at + 1);
    }
    names
}
