//! The search for the hydrogen molality and the ionic strength of a liquid.
//!
//! Newton's method in ln h and the ionic strength at once; far from the root in ln h alone,
//! bracketed. From an [`Anchor`] nearby the first trial is so close that one balance is
//! enough.

use super::anchor::{Anchor, Miss};
use super::balance::{Balance, Move};
use super::factors::{Factors, bring, exponentials, factor, ln_factors, ln_factors_by_strength, with_water};
use super::speciation::Composition;
use super::thermal::Thermal;

/// The charge balance solved.
#[derive(Clone, Copy, Debug)]
pub struct Root {
    /// The balance at the last trial.
    pub balance: Balance,
    /// What ln h still lacks, below the accuracy asked for: what is read off the root takes
    /// it along.
    pub lacking: f64,
    /// Ionic strength, mol/kg.
    pub ionic_strength: f64,
    /// Logarithms of the factors, without water's activity.
    pub ln: Factors,
    /// The factors, without water's activity.
    pub bare: Factors,
    /// The factors.
    pub factors: Factors,
    /// Charge and ionic strength along the ionic strength that γ is taken at.
    pub by_strength: [f64; 2],
}

impl Root {
    /// None yet: room for [`search`].
    pub const NONE: Self = Self {
        balance: Balance::NONE,
        lacking: 0.0,
        ionic_strength: 0.0,
        ln: [0.0; factor::ALL],
        bare: [0.0; factor::ALL],
        factors: [0.0; factor::ALL],
        by_strength: [0.0; 2],
    };

    /// The balance brought the last bit of the way, for those who read off every form of it: what
    /// the charge still lacked then is below rounding.
    pub fn polish(&mut self, composition: &Composition, with_carbon: bool) {
        let step = -self.balance.charge / self.balance.charge_slope;
        let h = moved_by(self.balance.hydrogen, step);
        self.balance = Balance::of(composition, &self.factors, with_carbon, h);
        self.lacking = 0.0;
    }

    /// A number whose logarithm goes along ln h with this slope.
    #[inline]
    fn brought(&self, value: f64, slope: f64) -> f64 {
        let d = slope * self.lacking;
        value * (1.0 + d * (1.0 + 0.5 * d))
    }

    /// Activity coefficient of H⁺.
    #[inline]
    pub fn hydrogen_gamma(&self) -> f64 {
        self.factors[factor::HYDROGEN_GAMMA]
    }

    /// Activity of H⁺.
    #[inline]
    pub fn hydrogen_activity(&self) -> f64 {
        self.brought(self.balance.hydrogen * self.hydrogen_gamma(), 1.0)
    }

    /// Saturation ratio Ω of brucite.
    #[inline]
    pub fn saturation_ratio(&self) -> f64 {
        let activity = self.balance.hydrogen * self.hydrogen_gamma();
        let ratio = self.balance.magnesium * self.factors[factor::BRUCITE] / (activity * activity);
        self.brought(ratio, self.balance.ln_magnesium - 2.0)
    }

    /// Activity of CO₂(aq).
    #[inline]
    pub fn carbon_dioxide_activity(&self) -> f64 {
        let activity = self.balance.carbon_dioxide() * self.factors[factor::DIOXIDE_GAMMA];
        self.brought(activity, self.balance.ln_carbonate + 2.0)
    }
}

/// How closely a search must come to the root: what may be left of the step in ln h, and of
/// that in the ionic strength as a part of itself.
#[derive(Clone, Copy, Debug)]
pub struct Accuracy {
    ln_h: f64,
    strength: f64,
}

impl Accuracy {
    /// For a stage of a step: ln h then is within 3·10⁻⁷, γ within 10⁻⁵. Asked for more closely, a
    /// lesson takes longer and errs by as much.
    pub const STAGE: Self = Self { ln_h: 5e-4, strength: 1e-5 };
    /// For the start of a step, from which others start: a tenth of what a stage may err by.
    pub const STEP: Self = Self { ln_h: 1e-5, strength: 1e-7 };
    /// For what is read off: as close as rounding lets it.
    pub const FULL: Self = Self { ln_h: 1e-7, strength: 1e-10 };
}

/// A search converges in one to eight steps; the bound only guards against a hang.
const MOST_STEPS: usize = 80;
/// A search that an anchor helps needs no more than this.
const NEAR_STEPS: usize = 4;
/// One step moves ln h by this much at most.
const LONGEST_STEP: f64 = 1.9;
/// While ln h is farther from the root than this, the ionic strength waits.
const FAR: f64 = 0.1;

/// Finds a liquid's root, from a solved neighbour where there is one. Gives by how much that
/// neighbour's guess missed it, if it gave one. The root is written in place: given back, its forty
/// numbers were copied seven times on the way.
pub fn search(
    composition: &Composition,
    thermal: &Thermal,
    with_carbon: bool,
    near: Option<(&Anchor, f64)>,
    accuracy: Accuracy,
    root: &mut Root,
) -> Option<Miss> {
    let water_activity = composition.water_activity();
    let guess = near.and_then(|(anchor, temperature_k)| anchor.guess(composition, temperature_k));
    let mut ionic_strength = guess.map_or_else(|| composition.guessed_strength(), |guess| guess.ionic_strength);
    // How the balance goes along the ionic strength is as it was at the anchor, if that is near.
    let mut by_strength = near.filter(|_| guess.is_some()).map(|(anchor, _)| anchor.by_strength);
    let ln = ln_factors(ionic_strength, thermal, with_carbon);
    if let Some((anchor, _)) = near {
        root.ln = anchor.ln;
        root.bare = anchor.bare;
        bring(&mut root.bare, &mut root.ln, &ln, with_carbon);
    } else {
        root.bare = exponentials(&ln, with_carbon);
        root.ln = ln;
    }
    root.factors = with_water(&root.bare, water_activity);
    let mut h = guess.map_or_else(|| composition.guessed_hydrogen(&root.factors, with_carbon), |guess| guess.hydrogen);
    let (mut low, mut high) = (0.0, f64::INFINITY);
    let mut steps = 0;
    loop {
        root.balance = Balance::of(composition, &root.factors, with_carbon, h);
        let balance = &root.balance;
        let alone = -balance.charge / balance.charge_slope;
        steps += 1;
        if !(alone.abs() <= FAR) && steps < MOST_STEPS {
            h = next_bracketed(h, alone, &mut low, &mut high);
            continue;
        }
        if steps > NEAR_STEPS {
            // Not so near after all: kept as at the anchor, it would lead astray.
            by_strength = None;
        }
        let by = *by_strength.get_or_insert_with(|| {
            let ln_factors = ln_factors_by_strength(ionic_strength, thermal, with_carbon);
            let answer = balance.answer(&Move { ln_factors, ..Move::default() });
            [answer.charge, answer.ionic_strength]
        });
        // Both at once. The forms that hold most of the ionic strength say how it goes along
        // ln h.
        let along = 0.5 * (h - balance.hydroxide) + 1.5 * balance.magnesium * balance.ln_magnesium;
        let off = balance.ionic_strength - ionic_strength;
        let inverse = 1.0 / (balance.charge_slope * (1.0 - by[1]) + by[0] * along);
        let step = -(balance.charge * (1.0 - by[1]) + off * by[0]) * inverse;
        let strength_step = (balance.charge_slope * off - along * balance.charge) * inverse;
        let close = step.abs() <= accuracy.ln_h && strength_step.abs() <= accuracy.strength * ionic_strength;
        if close || steps >= MOST_STEPS {
            ionic_strength += strength_step;
            root.lacking = step;
            root.ionic_strength = ionic_strength;
            root.by_strength = by;
            return guess.map(|guess| guess.miss(h * (1.0 + step), ionic_strength));
        }
        h = moved_by(h, step.clamp(-LONGEST_STEP, LONGEST_STEP));
        ionic_strength = (ionic_strength + strength_step).max(0.5 * ionic_strength);
        let ln = ln_factors(ionic_strength, thermal, with_carbon);
        bring(&mut root.bare, &mut root.ln, &ln, with_carbon);
        root.factors = with_water(&root.bare, water_activity);
    }
}

/// h e^step, by the (1,1) Padé form: the same root, no exponential.
#[inline]
fn moved_by(h: f64, step: f64) -> f64 {
    h * (2.0 + step) / (2.0 - step)
}

/// Newton's step in ln h alone, held within what is known to bracket the root.
fn next_bracketed(h: f64, step: f64, low: &mut f64, high: &mut f64) -> f64 {
    if step < 0.0 {
        *high = h;
    } else {
        *low = h;
    }
    let next = moved_by(h, step.clamp(-LONGEST_STEP, LONGEST_STEP));
    if next > *low && next < *high {
        next
    } else if *low > 0.0 && high.is_finite() {
        (*low * *high).sqrt()
    } else if step > 0.0 {
        h * 7.0
    } else {
        h / 7.0
    }
}
