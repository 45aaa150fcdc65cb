//! A size on sale that a pipe run is of: a series of the catalogue and one of its sizes.

use crate::engine::pipes::{self, CATALOGUE, PipeSeries, PipeSize};
use std::fmt;
use thiserror::Error;

/// A series of the catalogue and one of its sizes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizeOnSale {
    series: &'static PipeSeries,
    size: &'static PipeSize,
}

/// A size that the catalogue does not have.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum SizeError {
    /// No such series.
    #[error("there is no series of pipe “{0}”: write one of {list}", list = listed(CATALOGUE.into_iter().map(|s| s.id)))]
    Series(String),
    /// No such size in the series.
    #[error("{series} has no size “{nominal}”: write one of {sizes}")]
    Size {
        /// The series.
        series: &'static str,
        /// What was asked for.
        nominal: String,
        /// What there is.
        sizes: String,
    },
}

fn listed(names: impl Iterator<Item = &'static str>) -> String {
    names.collect::<Vec<_>>().join(", ")
}

impl SizeOnSale {
    /// The size of a series' identifier and a nominal size, as the catalogue writes both.
    ///
    /// # Errors
    /// A name that the catalogue does not have, with those that it has.
    pub fn find(series: &str, nominal: &str) -> Result<Self, SizeError> {
        let series = pipes::series(series).ok_or_else(|| SizeError::Series(series.to_owned()))?;
        let size = series.sizes.iter().find(|size| size.nominal == nominal).ok_or_else(|| SizeError::Size {
            series: series.name,
            nominal: nominal.to_owned(),
            sizes: listed(series.sizes.iter().map(|size| size.nominal)),
        })?;
        Ok(Self { series, size })
    }

    /// Every size of a series.
    pub fn all_of(series: &'static PipeSeries) -> impl Iterator<Item = Self> {
        series.sizes.iter().map(move |size| Self { series, size })
    }

    /// The series.
    #[must_use]
    pub fn series(&self) -> &'static PipeSeries {
        self.series
    }

    /// What the trade calls the size.
    #[must_use]
    pub fn nominal(&self) -> &'static str {
        self.size.nominal
    }

    /// Its bore, m.
    #[must_use]
    pub fn bore(&self) -> f64 {
        self.size.bore_m()
    }

    /// Roughness of its series when new, m.
    #[must_use]
    pub fn roughness(&self) -> f64 {
        self.series.roughness_m
    }

    /// Whether a bore in m is that of the size, to a millionth.
    #[must_use]
    pub fn has_bore(&self, bore: f64) -> bool {
        (bore - self.bore()).abs() <= 1e-6 * self.bore()
    }
}

impl fmt::Display for SizeOnSale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, {}", self.size.nominal, self.series.name)
    }
}
