//! Format 1: pipes, zones and scenarios, which refer to components and zones by name.

use super::fitting::Fitting;
use crate::document as live;
use crate::file::figure::{KiloWatts, Millimetres, Plain};
use serde::{Deserialize, Serialize};

/// A pipe between two ports.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Pipe {
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    pub from: (String, Port),
    pub to: (String, Port),
    #[serde(default, skip_serializing_if = "Plain::is_zero")]
    pub length_m: Plain,
    #[serde(default, with = "given", skip_serializing_if = "Option::is_none")]
    pub size: Option<(String, String)>,
    #[serde(default, with = "given", skip_serializing_if = "Option::is_none")]
    pub bore_mm: Option<Millimetres>,
    #[serde(default, with = "given", skip_serializing_if = "Option::is_none")]
    pub roughness_mm: Option<Millimetres>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fittings: Vec<Fitting>,
    #[serde(default, skip_serializing_if = "Plain::is_zero")]
    pub k: Plain,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bends: Vec<(Plain, Plain)>,
}

/// A field that may be left out but, when it is there, is a bare number without `Some(…)`.
pub(super) mod given {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(field: D) -> Result<Option<T>, D::Error> {
        T::deserialize(field).map(Some)
    }

    pub fn serialize<T: Serialize, S: Serializer>(field: &Option<T>, serializer: S) -> Result<S::Ok, S::Error> {
        match field {
            Some(number) => number.serialize(serializer),
            None => serializer.serialize_none(),
        }
    }
}

/// A port of a component.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Port {
    Inlet,
    Outlet,
    Branch,
    SecondaryOutlet,
    SecondaryInlet,
}

/// A zone.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Zone {
    pub name: String,
    pub load_kw: KiloWatts,
    pub emitter: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub valve: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_c: Option<Plain>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub return_c: Option<Plain>,
    #[serde(default, skip_serializing_if = "KiloWatts::is_zero")]
    pub gain_kw: KiloWatts,
}

/// One state of all zone valves.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Scenario {
    pub name: String,
    pub hours_per_year: Plain,
    #[serde(default)]
    pub shut: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outdoor_c: Option<Plain>,
}

impl Port {
    /// From the live type.
    pub fn of(port: live::Port) -> Self {
        match port {
            live::Port::Inlet => Self::Inlet,
            live::Port::Outlet => Self::Outlet,
            live::Port::Branch => Self::Branch,
            live::Port::SecondaryOutlet => Self::SecondaryOutlet,
            live::Port::SecondaryInlet => Self::SecondaryInlet,
        }
    }

    /// To the live type.
    pub fn live(self) -> live::Port {
        match self {
            Self::Inlet => live::Port::Inlet,
            Self::Outlet => live::Port::Outlet,
            Self::Branch => live::Port::Branch,
            Self::SecondaryOutlet => live::Port::SecondaryOutlet,
            Self::SecondaryInlet => live::Port::SecondaryInlet,
        }
    }
}

impl Pipe {
    /// A pipe between ends that have been named.
    pub fn of(pipe: &live::PipeRun, from: String, to: String) -> Self {
        // A bare joint needs neither, and a size says both; where they are others all the same, they are kept.
        let sold = |of: fn(&live::SizeOnSale) -> f64| pipe.size.as_ref().map(of).unwrap_or_default();
        let is_known = |figure: f64, sold: f64| match pipe.size {
            Some(_) => figure.to_bits() == sold.to_bits(),
            None => pipe.is_joint() && figure.to_bits() == 0,
        };
        let kept = |figure: f64, sold: f64| (!is_known(figure, sold)).then(|| Millimetres::new(figure));
        Self {
            name: pipe.name.clone(),
            from: (from, Port::of(pipe.from.port)),
            to: (to, Port::of(pipe.to.port)),
            length_m: Plain::new(pipe.length),
            size: pipe.size.map(|size| (size.series().id.to_owned(), size.nominal().to_owned())),
            bore_mm: kept(pipe.bore, sold(live::SizeOnSale::bore)),
            roughness_mm: kept(pipe.roughness, sold(live::SizeOnSale::roughness)),
            fittings: pipe.fittings.iter().map(Fitting::of).collect(),
            k: Plain::new(pipe.minor_k),
            bends: pipe.bends.iter().map(|[x, y]| (Plain::new(*x), Plain::new(*y))).collect(),
        }
    }

    /// The pipe between ends that have been found.
    pub fn live(self, from: live::ComponentId, to: live::ComponentId) -> live::PipeRun {
        let size = self.sold().and_then(Result::ok);
        let figure = |given: Option<Millimetres>, of: fn(&live::SizeOnSale) -> f64| match given {
            Some(given) => given.si,
            None => size.as_ref().map(of).unwrap_or_default(),
        };
        live::PipeRun {
            name: self.name,
            from: live::PortRef { component: from, port: self.from.1.live() },
            to: live::PortRef { component: to, port: self.to.1.live() },
            length: self.length_m.si,
            size,
            bore: figure(self.bore_mm, live::SizeOnSale::bore),
            roughness: figure(self.roughness_mm, live::SizeOnSale::roughness),
            fittings: self.fittings.iter().map(Fitting::live).collect(),
            minor_k: self.k.si,
            bends: self.bends.iter().map(|(x, y)| [x.si, y.si]).collect(),
        }
    }

    /// The size that it names.
    fn sold(&self) -> Option<Result<live::SizeOnSale, live::SizeError>> {
        self.size.as_ref().map(|(series, nominal)| live::SizeOnSale::find(series, nominal))
    }

    /// What a pipe with length or loss lacks, or names in vain, if anything.
    pub fn lacks(&self) -> Option<String> {
        match self.sold() {
            Some(Ok(_)) => return None,
            Some(Err(error)) => return Some(error.to_string()),
            None => {}
        }
        let is_joint = self.length_m.si == 0.0 && self.k.si == 0.0 && self.fittings.is_empty();
        let lack = match (self.bore_mm, self.roughness_mm) {
            _ if is_joint => None,
            (None, _) => Some("its bore is missing: give bore_mm, or a size"),
            (_, None) if self.length_m.si != 0.0 => {
                Some("its roughness is missing: give roughness_mm (0 for a smooth wall)")
            }
            _ => None,
        };
        lack.map(str::to_owned)
    }
}
