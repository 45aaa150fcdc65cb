//! Format 1: a component's name, place and turn.

use super::kind::Kind;
use crate::document as live;
use crate::file::figure::Plain;
use serde::{Deserialize, Serialize};

/// A component.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Component {
    pub name: String,
    at: (Plain, Plain),
    #[serde(default, skip_serializing_if = "Turn::is_right")]
    turn: Turn,
    #[serde(default, skip_serializing_if = "Plain::is_zero")]
    height_m: Plain,
    is: Kind,
}

/// How a symbol stands.
#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
enum Turn {
    #[default]
    Right,
    Down,
    Left,
    Up,
}

impl Turn {
    fn is_right(&self) -> bool {
        *self == Self::Right
    }
}

impl Component {
    /// From the live type.
    pub fn of(component: &live::Component) -> Self {
        Self {
            name: component.name.clone(),
            at: (Plain::new(component.at[0]), Plain::new(component.at[1])),
            turn: match component.turn {
                live::Turn::Right => Turn::Right,
                live::Turn::Down => Turn::Down,
                live::Turn::Left => Turn::Left,
                live::Turn::Up => Turn::Up,
            },
            height_m: Plain::new(component.height),
            is: Kind::of(&component.kind),
        }
    }

    /// To the live type.
    pub fn live(self) -> live::Component {
        live::Component {
            name: self.name,
            at: [self.at.0.si, self.at.1.si],
            turn: match self.turn {
                Turn::Right => live::Turn::Right,
                Turn::Down => live::Turn::Down,
                Turn::Left => live::Turn::Left,
                Turn::Up => live::Turn::Up,
            },
            height: self.height_m.si,
            kind: self.is.live(),
        }
    }
}
