//! Speciation: which forms the dissolved amounts take, and the pH that follows.
//!
//! Per kilogram of water a well-mixed portion of the beaker holds an acid excess E =
//! Cl - Na - 2 Mg (charge balance), chloride, sodium and inorganic carbon. E is carried
//! instead of magnesium because at pH 7 it is 10⁻⁸ mol, the difference of numbers of
//! 0.02 mol. The hydrogen ion is the root of one increasing function of ln h; the ionic
//! strength is a fixed point around it. Left out: slow hydration of CO₂, ion pairs of
//! chloride and sodium.

use super::activity::{linear_kg_mol, ln_linear, ln_single, size_angstrom, water_activity};
use super::thermal::Thermal;
use crate::constants::LN_10;
use crate::numerics::{Dual, Number};

/// What one kilogram of water holds, mol/kg.
#[derive(Clone, Copy, Debug)]
pub struct Composition<N> {
    /// Acid excess E = Cl - Na - 2 Mg; negative where base is in excess.
    pub acid_excess: N,
    /// Chloride.
    pub chloride: N,
    /// Sodium.
    pub sodium: N,
    /// Dissolved inorganic carbon, all forms.
    pub carbon: N,
}

impl<N: Number> Composition<N> {
    /// Dissolved magnesium, all forms, mol/kg.
    pub fn magnesium(&self) -> N {
        ((self.chloride - self.sodium - self.acid_excess) * 0.5).at_least(0.0)
    }

    fn water_activity(&self) -> N {
        water_activity(
            self.chloride + self.sodium + self.magnesium() + self.acid_excess.magnitude() + self.carbon,
        )
    }
}

/// Conditional constants at one temperature and ionic strength: activity coefficients
/// are folded in, so that they join molalities.
struct Factors<N> {
    /// [H][OH]
    water: N,
    /// [MgOH][H] / [Mg]
    mgoh: N,
    /// [HCO3] / ([H][CO3])
    hydrogencarbonate: N,
    /// [CO2] / ([H]² [CO3])
    carbon_dioxide: N,
    /// [MgCO3] / ([Mg][CO3])
    mgco3: N,
    /// [MgHCO3] / ([Mg][H][CO3])
    mghco3: N,
}

/// ln γ of the ions that more than one factor needs.
struct LnGamma<N> {
    hydrogen: N,
    magnesium: N,
}

impl<N: Number> LnGamma<N> {
    fn of(ionic_strength: N, root: N, thermal: &Thermal<N>) -> Self {
        Self {
            hydrogen: ln_single(thermal, root, size_angstrom::HYDROGEN),
            magnesium: ln_single(thermal, root, size_angstrom::MAGNESIUM) * 4.0
                + ln_linear(ionic_strength, linear_kg_mol::MAGNESIUM),
        }
    }
}

impl<N: Number> Factors<N> {
    fn of(ionic_strength: N, water_activity: N, thermal: &Thermal<N>, with_carbon: bool) -> Self {
        let root = ionic_strength.square_root();
        let ln_gamma = LnGamma::of(ionic_strength, root, thermal);
        let ln_hydroxide = ln_single(thermal, root, size_angstrom::HYDROXIDE);
        let ln_mgoh = ln_single(thermal, root, size_angstrom::MGOH);
        let water = (thermal.ln_water - ln_gamma.hydrogen - ln_hydroxide).exponential() * water_activity;
        let mgoh = (thermal.ln_mgoh + ln_gamma.magnesium - ln_mgoh - ln_gamma.hydrogen).exponential()
            * water_activity;
        if !with_carbon {
            let none = N::constant(0.0);
            return Self {
                water,
                mgoh,
                hydrogencarbonate: none,
                carbon_dioxide: none,
                mgco3: none,
                mghco3: none,
            };
        }
        let ln_single_carbonate = ln_single(thermal, root, size_angstrom::CARBONATE);
        let ln_carbonate = ln_single_carbonate * 4.0;
        let ln_mghco3 = ln_single(thermal, root, size_angstrom::MGHCO3);
        let ln_dioxide = ln_linear(ionic_strength, linear_kg_mol::CARBON_DIOXIDE);
        let ln_pair = ln_linear(ionic_strength, linear_kg_mol::MGCO3);
        let pairing = ln_gamma.magnesium + ln_carbonate;
        Self {
            water,
            mgoh,
            hydrogencarbonate: (thermal.ln_hydrogencarbonate + ln_gamma.hydrogen + ln_carbonate
                - ln_single_carbonate)
                .exponential(),
            carbon_dioxide: (thermal.ln_carbon_dioxide + ln_gamma.hydrogen * 2.0 + ln_carbonate
                - ln_dioxide)
                .exponential()
                / water_activity,
            mgco3: (thermal.ln_mgco3 + pairing - ln_pair).exponential(),
            mghco3: (thermal.ln_mghco3 + pairing + ln_gamma.hydrogen - ln_mghco3).exponential(),
        }
    }
}

/// The charge balance at a trial hydrogen molality, with its slope along ln h.
struct Balance<N> {
    /// Surplus of positive charge, mol/kg; zero at the solution.
    charge: N,
    /// d charge / d ln h, always > 0: the buffer intensity over ln 10.
    charge_slope: N,
    /// OH⁻ and MgOH⁺, mol/kg, and their slope along ln h.
    hydroxide_held_slope: N,
    ionic_strength: N,
    species: Species<N>,
}

/// Molalities of the forms, mol/kg.
#[derive(Clone, Copy, Debug)]
pub struct Species<N> {
    /// H⁺
    pub hydrogen: N,
    /// OH⁻
    pub hydroxide: N,
    /// Mg²⁺
    pub magnesium: N,
    /// MgOH⁺
    pub mgoh: N,
    /// CO₂(aq)
    pub carbon_dioxide: N,
    /// HCO₃⁻
    pub hydrogencarbonate: N,
    /// CO₃²⁻
    pub carbonate: N,
    /// MgCO₃(aq)
    pub mgco3: N,
    /// MgHCO₃⁺
    pub mghco3: N,
}

fn balance<N: Number>(composition: &Composition<N>, factors: &Factors<N>, with_carbon: bool, h: N) -> Balance<N> {
    let total_mg = composition.magnesium();
    let hydroxide = factors.water / h;
    let mgoh_ratio = factors.mgoh / h;
    let one_plus = mgoh_ratio + 1.0;
    let none = N::constant(0.0);
    let base = composition.chloride + composition.sodium + h + hydroxide;
    if !with_carbon {
        let magnesium = total_mg / one_plus;
        let mgoh = magnesium * mgoh_ratio;
        // d ln Mg / d ln h = ratio / (1 + ratio).
        let mgoh_slope = -mgoh / one_plus;
        return Balance {
            charge: h - hydroxide - mgoh - composition.acid_excess,
            charge_slope: h + hydroxide - mgoh_slope,
            hydroxide_held_slope: mgoh_slope - hydroxide,
            ionic_strength: (base + mgoh + magnesium * 4.0) * 0.5,
            species: Species {
                hydrogen: h,
                hydroxide,
                magnesium,
                mgoh,
                carbon_dioxide: none,
                hydrogencarbonate: none,
                carbonate: none,
                mgco3: none,
                mghco3: none,
            },
        };
    }
    // Mg (1 + q/h + p CO3) = Mg_total and CO3 (b + p Mg) = C_total, with p the pairing and
    // b the protonation: a quadratic in Mg, in the form that does not cancel.
    let pair_h = factors.mghco3 * h;
    let pairing = factors.mgco3 + pair_h;
    let first = factors.hydrogencarbonate * h;
    let second = factors.carbon_dioxide * h * h;
    let protonation = first + second + 1.0;
    let linear = one_plus * protonation + pairing * (composition.carbon - total_mg);
    let root = (linear * linear + one_plus * pairing * total_mg * protonation * 4.0).square_root();
    let magnesium = if linear.value() >= 0.0 {
        total_mg * protonation * 2.0 / (linear + root)
    } else {
        (root - linear) / (one_plus * pairing * 2.0)
    };
    let carbonate = composition.carbon / (protonation + pairing * magnesium);
    let mgoh = mgoh_ratio * magnesium;
    let hydrogencarbonate = first * carbonate;
    let mghco3 = pair_h * magnesium * carbonate;
    let mgco3 = factors.mgco3 * magnesium * carbonate;
    // Slopes of ln Mg and ln CO3 along ln h from the two balances.
    let (a11, a12) = (one_plus + pairing * carbonate, pairing * carbonate);
    let (a21, a22) = (pairing * magnesium, protonation + pairing * magnesium);
    let r1 = mgoh_ratio - pair_h * carbonate;
    let r2 = -(first + second * 2.0 + pair_h * magnesium);
    let determinant = a11 * a22 - a12 * a21;
    let ln_mg = (r1 * a22 - a12 * r2) / determinant;
    let ln_co3 = (a11 * r2 - a21 * r1) / determinant;
    let mgoh_slope = mgoh * (ln_mg - 1.0);
    let carbon_slope = hydrogencarbonate * (ln_co3 + 1.0)
        + carbonate * ln_co3 * 2.0
        + mghco3 * (ln_mg + ln_co3 + 1.0)
        + mgco3 * (ln_mg + ln_co3) * 2.0;
    Balance {
        charge: h
            - hydroxide
            - mgoh
            - hydrogencarbonate
            - carbonate * 2.0
            - mghco3
            - mgco3 * 2.0
            - composition.acid_excess,
        charge_slope: h + hydroxide - mgoh_slope - carbon_slope,
        hydroxide_held_slope: mgoh_slope - hydroxide,
        ionic_strength: (base + mgoh + magnesium * 4.0 + hydrogencarbonate + carbonate * 4.0 + mghco3) * 0.5,
        species: Species {
            hydrogen: h,
            hydroxide,
            magnesium,
            mgoh,
            carbon_dioxide: second * carbonate,
            hydrogencarbonate,
            carbonate,
            mgco3,
            mghco3,
        },
    }
}

/// A solved speciation.
#[derive(Clone, Copy, Debug)]
pub struct Speciation<N> {
    /// Ionic strength I = ½ Σ m z², mol/kg.
    pub ionic_strength: N,
    /// Activity of H⁺; pH = -log₁₀ of it.
    pub hydrogen_activity: N,
    /// Activity coefficient of H⁺.
    pub hydrogen_gamma: N,
    /// Saturation ratio Ω of brucite, ion activity product over solubility product.
    pub saturation_ratio: N,
    /// Activity of CO₂(aq).
    pub carbon_dioxide_activity: N,
    /// Change of OH⁻ and MgOH⁺ with E at fixed totals, dimensionless, -1 to 0.
    pub hydroxide_by_excess: N,
    /// Molalities of the forms.
    pub species: Species<N>,
}

impl Speciation<f64> {
    /// pH = -log₁₀ a(H⁺).
    pub fn ph(&self) -> f64 {
        -libm::log10(self.hydrogen_activity)
    }
}

/// The unknowns at the solution: hydrogen molality and ionic strength, mol/kg.
#[derive(Clone, Copy, Debug)]
struct Root {
    hydrogen: f64,
    ionic_strength: f64,
}

/// ln h is found to this step, the ionic strength to that relative change: both far finer
/// than any check asks, so that the right-hand side is smooth to the stepper.
const LN_H_TOLERANCE: f64 = 1e-13;
const IONIC_STRENGTH_TOLERANCE: f64 = 1e-11;
/// Both loops converge in two to four passes; the bounds only guard against a hang.
const MOST_NEWTON: usize = 60;
const MOST_PASSES: usize = 40;

fn solve(composition: &Composition<f64>, thermal: &Thermal<f64>, with_carbon: bool) -> Root {
    let e = composition.acid_excess;
    let total_mg = composition.magnesium();
    let aw = composition.water_activity();
    // In acid h ≈ E and in base OH ≈ -E: with |E| counted the first guess of the ionic
    // strength is right to a few parts in 10⁴ and two passes suffice.
    let mut ionic_strength = 0.5 * (composition.chloride + composition.sodium + 4.0 * total_mg + e.abs()) + 1e-12;
    let mut hydrogen = None;
    for _ in 0..MOST_PASSES {
        let factors = Factors::of(ionic_strength, aw, thermal, with_carbon);
        let guess = hydrogen.unwrap_or_else(|| {
            let k = factors.water + total_mg * factors.mgoh;
            let root = (e * e + 4.0 * k).sqrt();
            if e >= 0.0 { 0.5 * (e + root) } else { 2.0 * k / (root - e) }
        });
        let (h, strength) = newton(composition, &factors, with_carbon, guess);
        hydrogen = Some(h);
        let settled = (strength - ionic_strength).abs() <= IONIC_STRENGTH_TOLERANCE * strength.max(1e-9);
        ionic_strength = strength;
        if settled {
            break;
        }
    }
    Root { hydrogen: hydrogen.unwrap_or(1e-7), ionic_strength }
}

/// Bracketed Newton in ln h at fixed conditional constants: h and the ionic strength.
fn newton(composition: &Composition<f64>, factors: &Factors<f64>, with_carbon: bool, guess: f64) -> (f64, f64) {
    let (mut low, mut high) = (0.0, f64::INFINITY);
    let mut h = guess;
    let mut strength = 0.0;
    for _ in 0..MOST_NEWTON {
        let balance = balance(composition, factors, with_carbon, h);
        strength = balance.ionic_strength;
        if balance.charge > 0.0 {
            high = h;
        } else {
            low = h;
        }
        let step = (-balance.charge / balance.charge_slope).clamp(-1.9, 1.9);
        // h e^step, by the (1,1) Padé form: the same root, no exponential.
        let mut next = h * (2.0 + step) / (2.0 - step);
        if !(next > low && next < high) {
            if step.abs() <= 1e-9 {
                break;
            }
            next = if high.is_finite() && low > 0.0 { (low * high).sqrt() } else { h * if step > 0.0 { 7.0 } else { 1.0 / 7.0 } };
        }
        h = next;
        if step.abs() <= LN_H_TOLERANCE {
            break;
        }
    }
    (h, strength)
}

fn finish<N: Number>(
    composition: &Composition<N>,
    thermal: &Thermal<N>,
    with_carbon: bool,
    hydrogen: N,
    ionic_strength: N,
) -> (Speciation<N>, Balance<N>) {
    let aw = composition.water_activity();
    let factors = Factors::of(ionic_strength, aw, thermal, with_carbon);
    let balance = balance(composition, &factors, with_carbon, hydrogen);
    let root = ionic_strength.square_root();
    let ln_gamma = LnGamma::of(ionic_strength, root, thermal);
    let hydrogen_gamma = ln_gamma.hydrogen.exponential();
    let hydrogen_activity = hydrogen * hydrogen_gamma;
    let brucite = (ln_gamma.magnesium - thermal.ln_brucite).exponential() * aw * aw;
    let dioxide = if with_carbon {
        balance.species.carbon_dioxide * (ionic_strength * (linear_kg_mol::CARBON_DIOXIDE * LN_10)).exponential()
    } else {
        N::constant(0.0)
    };
    let speciation = Speciation {
        ionic_strength,
        hydrogen_activity,
        hydrogen_gamma,
        saturation_ratio: balance.species.magnesium * brucite / (hydrogen_activity * hydrogen_activity),
        carbon_dioxide_activity: dioxide,
        hydroxide_by_excess: balance.hydroxide_held_slope / balance.charge_slope,
        species: balance.species,
    };
    (speciation, balance)
}

/// Speciates a composition at one temperature. `with_carbon` false leaves the carbonate
/// species out altogether (they cost half of the time).
pub fn speciate(composition: &Composition<f64>, thermal: &Thermal<f64>, with_carbon: bool) -> Speciation<f64> {
    let root = solve(composition, thermal, with_carbon);
    finish(composition, thermal, with_carbon, root.hydrogen, root.ionic_strength).0
}

/// Directions along which a zone's slopes are taken: acid excess, chloride, sodium,
/// carbon (mol/kg), temperature (K) and the share of solid left.
pub const INPUTS: usize = 6;
/// Two more directions stand for the unknowns, ln h and the ionic strength, until
/// [`Elimination`] replaces them.
const LN_H: usize = INPUTS;
const STRENGTH: usize = INPUTS + 1;
/// A number with slopes along the inputs and the two unknowns.
pub type Local = Dual<{ INPUTS + 2 }>;

/// How the two unknowns follow the inputs: slopes of ln h and of the ionic strength.
pub struct Elimination {
    ln_h: [f64; INPUTS],
    ionic_strength: [f64; INPUTS],
}

impl Elimination {
    /// Slopes along the inputs alone, the unknowns following.
    pub fn slopes(&self, number: &Local) -> [f64; INPUTS] {
        let slopes = number.slopes();
        core::array::from_fn(|p| {
            slopes[p] + slopes[LN_H] * self.ln_h[p] + slopes[STRENGTH] * self.ionic_strength[p]
        })
    }
}

/// As [`speciate`], with slopes: the root is found on plain numbers, then the implicit
/// function theorem on the two residuals (charge, ionic strength) says how it moves.
pub fn speciate_with_slopes(
    composition: &Composition<Local>,
    thermal: &Thermal<Local>,
    with_carbon: bool,
) -> (Speciation<Local>, Elimination) {
    let plain = Composition {
        acid_excess: composition.acid_excess.value(),
        chloride: composition.chloride.value(),
        sodium: composition.sodium.value(),
        carbon: composition.carbon.value(),
    };
    let root = solve(&plain, &thermal.values(), with_carbon);
    let hydrogen = Local::variable(0.0, LN_H).chain(root.hydrogen, root.hydrogen);
    let ionic_strength = Local::variable(root.ionic_strength, STRENGTH);
    let (speciation, balance) = finish(composition, thermal, with_carbon, hydrogen, ionic_strength);
    let charge = *balance.charge.slopes();
    let strength = *(balance.ionic_strength - ionic_strength).slopes();
    let determinant = charge[LN_H] * strength[STRENGTH] - charge[STRENGTH] * strength[LN_H];
    let elimination = Elimination {
        ln_h: core::array::from_fn(|p| {
            (charge[STRENGTH] * strength[p] - charge[p] * strength[STRENGTH]) / determinant
        }),
        ionic_strength: core::array::from_fn(|p| {
            (charge[p] * strength[LN_H] - charge[LN_H] * strength[p]) / determinant
        }),
    };
    (speciation, elimination)
}
