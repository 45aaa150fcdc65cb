//! Settings beside each other: the present ones, the same pump at constant speed and at a level head limit, and every pinned variant.

use super::margins::Margin;
use super::year::Year;
use super::{Law, PartLoad};
use crate::document::Project;
use crate::engine::pump::Regulation;

/// Settings with what they do in a year.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// What to call them.
    pub name: String,
    /// Which of the project's variants they are; `None` for those that are none.
    pub variant: Option<usize>,
    /// The settings.
    pub settings: Regulation,
    /// Ready to be laid over the states.
    pub law: Law,
    /// Their year.
    pub year: Year,
    /// Mean electric power over the hours, W.
    pub mean_w: f64,
    /// What every zone gets.
    pub margins: Vec<Margin>,
}

impl PartLoad {
    /// Settings with what they do in a year.
    #[must_use]
    pub fn compared(&self, name: &str, variant: Option<usize>, settings: &Regulation) -> Compared {
        let law = self.law(settings);
        Compared {
            name: name.to_owned(),
            variant,
            settings: *settings,
            law,
            year: self.year(&law),
            mean_w: self.mean_power_w(&law),
            margins: self.margins(&law),
        }
    }

    /// The present settings first, then constant speed at the present cap, the present head limit without slope, and the variants
    /// pinned for this pump.
    #[must_use]
    pub fn comparison(&self, project: &Project) -> Vec<Compared> {
        let present = project.pump(self.pump).map_or(self.regulation, |unit| unit.regulation);
        let constant = Regulation { head_limit_m: None, slope: 0.0, ..present };
        let level = Regulation { slope: 0.0, ..present };
        let mut all = vec![self.compared("Present settings", None, &present)];
        all.push(self.compared("Constant speed at the cap", None, &constant));
        if present.head_limit_m.is_some() && present.slope > 0.0 {
            all.push(self.compared("Level head limit, no slope", None, &level));
        }
        let pinned = project.variants.iter().enumerate().filter(|(_, variant)| variant.pump == self.pump);
        all.extend(pinned.map(|(index, variant)| self.compared(&variant.name, Some(index), &variant.regulation)));
        all
    }
}
