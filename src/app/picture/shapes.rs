//! From the toolkit's shapes to SVG: what was painted in a pass, written element by element, so that the picture of the window is what
//! the window shows, at any scale.

use super::text;
use crate::report::picture::{Svg, figure, path};
use egui::emath::GuiRounding as _;
use egui::epaint::{ColorMode, PathShape, PathStroke, RectShape};
use egui::{Color32, Mesh, Pos2, Rect, Shape, Stroke, StrokeKind};

/// A picture that is being written out of shapes.
#[derive(Default)]
pub(super) struct Written {
    pub svg: Svg,
    /// Clip rectangles defined so far.
    clips: Vec<Rect>,
    /// Blurs defined so far, in tenths of a point.
    blurs: Vec<u32>,
}

/// A colour as SVG writes it, for the attribute `fill` or `stroke`.
pub(super) fn paint(attribute: &str, color: Color32) -> String {
    let [red, green, blue, alpha] = color.to_srgba_unmultiplied();
    if alpha == 0 {
        return format!(r#"{attribute}="none""#);
    }
    let opaque = format!("{attribute}=\"#{red:02x}{green:02x}{blue:02x}\"");
    if alpha == 255 {
        return opaque;
    }
    format!(r#"{opaque} {attribute}-opacity="{}""#, figure(f64::from(alpha) / 255.0))
}

fn stroke(stroke: Stroke) -> String {
    if stroke.is_empty() {
        return r#"stroke="none""#.to_owned();
    }
    format!(r#"{} stroke-width="{}""#, paint("stroke", stroke.color), figure(f64::from(stroke.width)))
}

/// A path has one colour here: that of its first point where it has several.
fn path_stroke(path: &PathStroke, bounds: Rect, first: Pos2) -> Stroke {
    let color = match &path.color {
        ColorMode::Solid(color) => *color,
        ColorMode::UV(color) => color(bounds, first),
    };
    Stroke::new(path.width, color)
}

fn at(pos: Pos2) -> [f64; 2] {
    [f64::from(pos.x), f64::from(pos.y)]
}

impl Written {
    /// Writes shapes, clipped to a rectangle.
    pub(super) fn clipped(&mut self, clip: Rect, shapes: &[Shape]) {
        let known = self.clips.iter().position(|other| *other == clip);
        let number = known.unwrap_or_else(|| {
            let number = self.clips.len();
            self.clips.push(clip);
            self.svg.open("clipPath", &format!(r#"id="c{number}""#));
            self.svg.rect(sides(clip), "");
            self.svg.close("clipPath");
            number
        });
        self.svg.open("g", &format!(r#"clip-path="url(#c{number})""#));
        for shape in shapes {
            self.shape(shape);
        }
        self.svg.close("g");
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            // What a graphics card alone can paint is in no pane of this program.
            Shape::Noop | Shape::Callback(_) => {}
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| self.shape(shape)),
            Shape::Circle(circle) => {
                let [x, y] = at(circle.center).map(figure);
                let radius = figure(f64::from(circle.radius));
                let style = format!("{} {}", paint("fill", circle.fill), stroke(circle.stroke));
                self.svg.element("circle", &format!(r#"cx="{x}" cy="{y}" r="{radius}" {style}"#));
            }
            Shape::Ellipse(ellipse) => {
                let [x, y] = at(ellipse.center).map(figure);
                let [rx, ry] = [ellipse.radius.x, ellipse.radius.y].map(|radius| figure(f64::from(radius)));
                let turn = turned(ellipse.angle, ellipse.center);
                let style = format!("{} {}", paint("fill", ellipse.fill), stroke(ellipse.stroke));
                self.svg.element("ellipse", &format!(r#"cx="{x}" cy="{y}" rx="{rx}" ry="{ry}" {style}{turn}"#));
            }
            Shape::LineSegment { points: [from, to], stroke: line } => {
                self.svg.line(at(*from), at(*to), &stroke(*line));
            }
            Shape::Path(path) => self.path(path),
            Shape::Band(band) => {
                let upper = band.points.iter().map(|point| [f64::from(point.x), f64::from(point.y.min)]);
                let lower = band.points.iter().rev().map(|point| [f64::from(point.x), f64::from(point.y.max)]);
                let around = path(upper.chain(lower), true);
                self.svg.path(&around, &format!("{} {}", paint("fill", band.fill), stroke(band.stroke)));
            }
            Shape::Rect(rect) => self.rect(rect),
            Shape::Text(words) => text::write(self, words),
            Shape::Mesh(mesh) => self.triangles(mesh, |_| true, Pos2::ZERO, ""),
            Shape::QuadraticBezier(curve) => {
                let line = path_stroke(&curve.stroke, curve.visual_bounding_rect(), curve.points[0]);
                self.curve(&curve.flatten(None), curve.closed, curve.fill, line);
            }
            Shape::CubicBezier(curve) => {
                let line = path_stroke(&curve.stroke, curve.visual_bounding_rect(), curve.points[0]);
                self.curve(&curve.flatten(None), curve.closed, curve.fill, line);
            }
        }
    }

    fn path(&mut self, shape: &PathShape) {
        let Some(first) = shape.points.first() else { return };
        let line = path_stroke(&shape.stroke, shape.visual_bounding_rect(), *first);
        self.curve(&shape.points, shape.closed, shape.fill, line);
    }

    fn curve(&mut self, points: &[Pos2], closed: bool, fill: Color32, line: Stroke) {
        let style = format!(r#"{} {} stroke-linejoin="round""#, paint("fill", fill), stroke(line));
        self.svg.path(&path(points.iter().copied().map(at), closed), &style);
    }

    fn rect(&mut self, shape: &RectShape) {
        // The stroke lies on the edge in SVG.
        let out = match shape.stroke_kind {
            StrokeKind::Inside => -0.5 * shape.stroke.width,
            StrokeKind::Middle => 0.0,
            StrokeKind::Outside => 0.5 * shape.stroke.width,
        };
        // The toolkit lays rectangles on whole pixels, so that their edges are sharp; so does the picture at its own size.
        let whole = if shape.round_to_pixels == Some(false) { shape.rect } else { shape.rect.round_to_pixels(1.0) };
        let rect = whole.expand(if shape.stroke.is_empty() { 0.0 } else { out });
        let corners = shape.corner_radius;
        let radius = [corners.nw, corners.ne, corners.sw, corners.se].into_iter().max().unwrap_or(0);
        let mut style = format!("{} {}", paint("fill", shape.fill), stroke(shape.stroke));
        if radius > 0 {
            style += &format!(r#" rx="{radius}""#);
        }
        if shape.blur_width > 0.0 {
            style += &format!(r#" filter="url(#b{})""#, self.blur(shape.blur_width));
        }
        style += &turned(shape.angle, shape.rect.center());
        self.svg.rect(sides(rect), &style);
    }

    /// The number of a blur of a width.
    fn blur(&mut self, width: f32) -> u32 {
        let tenths = (10.0 * width).round() as u32;
        if !self.blurs.contains(&tenths) {
            self.blurs.push(tenths);
            // A blur fades over its whole width, as does one of a deviation of a third of it.
            let deviation = figure(f64::from(width) / 3.0);
            self.svg.open("filter", &format!(r#"id="b{tenths}" x="-50%" y="-50%" width="200%" height="200%""#));
            self.svg.element("feGaussianBlur", &format!(r#"stdDeviation="{deviation}""#));
            self.svg.close("filter");
        }
        tenths
    }

    /// The triangles of a mesh whose corners are wanted, each in the colour of its first corner.
    pub(super) fn triangles(&mut self, mesh: &Mesh, wanted: impl Fn(usize) -> bool, origin: Pos2, turn: &str) {
        for triangle in mesh.indices.chunks_exact(3) {
            let corners = [triangle[0], triangle[1], triangle[2]].map(|index| index as usize);
            if !corners.iter().all(|corner| wanted(*corner)) {
                continue;
            }
            let vertices = corners.map(|corner| mesh.vertices.get(corner).copied().unwrap_or_default());
            let points = vertices.map(|vertex| at(origin + vertex.pos.to_vec2()));
            let color = vertices[0].color;
            if color.a() > 0 {
                // A hairline of its own colour closes the seam to the neighbour.
                let style = format!(r#"{} {} stroke-width="0.3"{turn}"#, paint("fill", color), paint("stroke", color));
                self.svg.path(&path(points, true), &style);
            }
        }
    }
}

/// Left, top, width and height.
fn sides(rect: Rect) -> [f64; 4] {
    [rect.left(), rect.top(), rect.width().max(0.0), rect.height().max(0.0)].map(f64::from)
}

/// The attribute that turns something clockwise about a place; empty for what stands upright.
pub(super) fn turned(angle: f32, about: Pos2) -> String {
    if angle == 0.0 {
        return String::new();
    }
    let [x, y] = at(about).map(figure);
    format!(r#" transform="rotate({} {x} {y})""#, figure(f64::from(angle.to_degrees())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_written_with_their_strength() {
        assert_eq!(paint("fill", Color32::from_rgb(0, 114, 178)), r##"fill="#0072b2""##);
        assert_eq!(paint("stroke", Color32::TRANSPARENT), r#"stroke="none""#);
        let half = paint("fill", Color32::from_rgba_unmultiplied(255, 0, 0, 128));
        assert_eq!(half, r##"fill="#ff0000" fill-opacity="0.5""##);
    }

    #[test]
    fn a_stroke_inside_a_rectangle_stays_inside() {
        let mut written = Written::default();
        let rect = Rect::from_min_size(Pos2::new(10.0, 20.0), egui::vec2(30.0, 40.0));
        let line = Stroke::new(2.0, Color32::BLACK);
        written.clipped(rect, &[RectShape::stroke(rect, 0, line, StrokeKind::Inside).into()]);
        let svg = written.svg.finish([100.0, 100.0], 100.0, "test");
        assert!(svg.contains(r#"<rect x="11" y="21" width="28" height="38""#), "{svg}");
    }
}
