//! Drawings as text: one string that the browser makes into nodes at once.
//!
//! A drawing has hundreds of nodes of few sorts and none of them listens to a signal, so it needs no view of its own.

use core::fmt::Write as _;

/// A length or place on a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum At {
    /// In the drawing's own units.
    Unit(f64),
    /// Of the drawing's width or height.
    Percent(f64),
}

/// Where a text stands seen from its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// It is centred there.
    Middle,
    /// It ends there.
    End,
}

/// A drawing that grows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Svg(String);

impl Svg {
    /// The drawing as the content of an `svg` element.
    pub fn into_text(self) -> String {
        self.0
    }

    /// A straight line.
    pub fn line(&mut self, class: &str, from: (At, At), to: (At, At)) {
        self.open("line", class);
        self.places(&[("x1", from.0), ("y1", from.1), ("x2", to.0), ("y2", to.1)]);
        self.0.push_str("/>");
    }

    /// A rectangle by its corner and size.
    pub fn rect(&mut self, class: &str, corner: (At, At), size: (At, At)) {
        self.open("rect", class);
        self.places(&[("x", corner.0), ("y", corner.1), ("width", size.0), ("height", size.1)]);
        self.0.push_str("/>");
    }

    /// A circle.
    pub fn circle(&mut self, class: &str, (x, y): (f64, f64), radius: f64) {
        self.open("circle", class);
        self.places(&[("cx", At::Unit(x)), ("cy", At::Unit(y)), ("r", At::Unit(radius))]);
        self.0.push_str("/>");
    }

    /// A path by its commands.
    pub fn path(&mut self, class: &str, commands: &str) {
        self.open("path", class);
        self.attribute("d", commands);
        self.0.push_str("/>");
    }

    /// A line through points.
    pub fn polyline(&mut self, class: &str, points: impl Iterator<Item = (f64, f64)>) {
        self.open("polyline", class);
        self.0.push_str(" points=\"");
        for (x, y) in points {
            self.number(x);
            self.0.push(',');
            self.number(y);
            self.0.push(' ');
        }
        self.0.push_str("\"/>");
    }

    /// A text.
    pub fn text(&mut self, class: &str, at: (At, At), anchor: Anchor, words: &str) {
        self.open("text", class);
        self.places(&[("x", at.0), ("y", at.1)]);
        match anchor {
            Anchor::Start => {}
            Anchor::Middle => self.attribute("text-anchor", "middle"),
            Anchor::End => self.attribute("text-anchor", "end"),
        }
        self.0.push('>');
        self.words(words);
        self.0.push_str("</text>");
    }

    /// Opens a group moved to a place, with further attributes as written; `end_group` closes it.
    pub fn group(&mut self, class: &str, (x, y): (f64, f64), attributes: &[(&str, &str)]) {
        self.open("g", class);
        self.0.push_str(" transform=\"translate(");
        self.number(x);
        self.0.push(' ');
        self.number(y);
        self.0.push_str(")\"");
        for (name, value) in attributes {
            self.attribute(name, value);
        }
        self.0.push('>');
    }

    /// Closes a group.
    pub fn end_group(&mut self) {
        self.0.push_str("</g>");
    }

    /// What a pointer resting on the group opened last is told.
    pub fn title(&mut self, words: &str) {
        self.0.push_str("<title>");
        self.words(words);
        self.0.push_str("</title>");
    }

    /// Words within an element that has no attributes of its own but those written.
    pub fn within(&mut self, element: &str, attributes: &str, words: &str) {
        let _ = write!(self.0, "<{element}{attributes}>");
        self.words(words);
        let _ = write!(self.0, "</{element}>");
    }

    /// Anything else, as written; nothing that a user has typed may pass here.
    pub fn raw(&mut self, markup: &str) {
        self.0.push_str(markup);
    }

    fn open(&mut self, element: &str, class: &str) {
        self.0.push('<');
        self.0.push_str(element);
        self.attribute("class", class);
    }

    fn places(&mut self, places: &[(&str, At)]) {
        for (name, place) in places {
            let _ = write!(self.0, " {name}=\"");
            match place {
                At::Unit(value) => self.number(*value),
                At::Percent(value) => {
                    self.number(*value);
                    self.0.push('%');
                }
            }
            self.0.push('"');
        }
    }

    fn attribute(&mut self, name: &str, value: &str) {
        let _ = write!(self.0, " {name}=\"");
        self.words(value);
        self.0.push('"');
    }

    /// Two decimals: finer than any screen shows.
    fn number(&mut self, value: f64) {
        let _ = write!(self.0, "{}", (value * 100.0).round() / 100.0);
    }

    /// Text that must not be taken for markup.
    fn words(&mut self, words: &str) {
        for letter in words.chars() {
            match letter {
                '<' => self.0.push_str("&lt;"),
                '>' => self.0.push_str("&gt;"),
                '&' => self.0.push_str("&amp;"),
                '"' => self.0.push_str("&quot;"),
                other => self.0.push(other),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_never_markup() {
        let mut svg = Svg::default();
        svg.text("plot-key", (At::Unit(1.0), At::Percent(50.0)), Anchor::End, "a<b>&\"c\"");
        let expected = "<text class=\"plot-key\" x=\"1\" y=\"50%\" text-anchor=\"end\">\
                        a&lt;b&gt;&amp;&quot;c&quot;</text>";
        assert_eq!(svg.into_text(), expected);
    }
}
