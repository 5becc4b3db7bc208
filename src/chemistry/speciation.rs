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
        water_activity(self.chloride + self.sodium + self.magnesium() + self.acid_excess.magnitude() + self.carbon)
    }
}

/// Conditional constants at one temperature and ionic strength: activity coefficients
/// are folded in, so that they join molalities. Indices into the arrays below.
mod factor {
    /// [H][OH]
    pub const WATER: usize = 0;
    /// [MgOH][H] / [Mg]
    pub const MGOH: usize = 1;
    /// γ(H⁺)
    pub const HYDROGEN_GAMMA: usize = 2;
    /// Ω a(H⁺)² / [Mg]
    pub const BRUCITE: usize = 3;
    /// How many are needed where there is no carbon.
    pub const WITHOUT_CARBON: usize = 4;
    /// [HCO3] / ([H][CO3])
    pub const HYDROGENCARBONATE: usize = 4;
    /// [CO2] / ([H]² [CO3])
    pub const CARBON_DIOXIDE: usize = 5;
    /// [MgCO3] / ([Mg][CO3])
    pub const MGCO3: usize = 6;
    /// [MgHCO3] / ([Mg][H][CO3])
    pub const MGHCO3: usize = 7;
    /// γ(CO₂)
    pub const DIOXIDE_GAMMA: usize = 8;
    /// How many there are in all.
    pub const ALL: usize = 9;
}

/// The factors themselves, or their logarithms while water's activity is still left out.
type Factors<N> = [N; factor::ALL];

/// How many factors are needed.
const fn needed(with_carbon: bool) -> usize {
    if with_carbon { factor::ALL } else { factor::WITHOUT_CARBON }
}

/// Natural logarithms of the factors, without the activity of water.
fn ln_factors<N: Number>(ionic_strength: N, thermal: &Thermal<N>, with_carbon: bool) -> Factors<N> {
    let root = ionic_strength.square_root();
    let hydrogen = ln_single(thermal, root, size_angstrom::HYDROGEN);
    let magnesium =
        ln_single(thermal, root, size_angstrom::MAGNESIUM) * 4.0 + ln_linear(ionic_strength, linear_kg_mol::MAGNESIUM);
    let mut ln = [N::constant(0.0); factor::ALL];
    ln[factor::WATER] = thermal.ln_water - hydrogen - ln_single(thermal, root, size_angstrom::HYDROXIDE);
    ln[factor::MGOH] = thermal.ln_mgoh + magnesium - hydrogen - ln_single(thermal, root, size_angstrom::MGOH);
    ln[factor::HYDROGEN_GAMMA] = hydrogen;
    ln[factor::BRUCITE] = magnesium - thermal.ln_brucite;
    if with_carbon {
        let single = ln_single(thermal, root, size_angstrom::CARBONATE);
        let carbonate = single * 4.0;
        let dioxide = ln_linear(ionic_strength, linear_kg_mol::CARBON_DIOXIDE);
        let pairing = magnesium + carbonate;
        ln[factor::HYDROGENCARBONATE] = thermal.ln_hydrogencarbonate + hydrogen + carbonate - single;
        ln[factor::CARBON_DIOXIDE] = thermal.ln_carbon_dioxide + hydrogen * 2.0 + carbonate - dioxide;
        ln[factor::MGCO3] = thermal.ln_mgco3 + pairing - ln_linear(ionic_strength, linear_kg_mol::MGCO3);
        ln[factor::MGHCO3] = thermal.ln_mghco3 + pairing + hydrogen - ln_single(thermal, root, size_angstrom::MGHCO3);
        ln[factor::DIOXIDE_GAMMA] = dioxide;
    }
    ln
}

/// The factors from their logarithms, water's activity still left out.
fn bare_factors<N: Number>(ln: &Factors<N>, with_carbon: bool) -> Factors<N> {
    let mut factors = [N::constant(0.0); factor::ALL];
    for i in 0..needed(with_carbon) {
        factors[i] = ln[i].exponential();
    }
    factors
}

/// The factors with the activity of water taken in.
fn with_water<N: Number>(bare: &Factors<N>, water_activity: N, with_carbon: bool) -> Factors<N> {
    let mut factors = *bare;
    factors[factor::WATER] = factors[factor::WATER] * water_activity;
    factors[factor::MGOH] = factors[factor::MGOH] * water_activity;
    factors[factor::BRUCITE] = factors[factor::BRUCITE] * water_activity * water_activity;
    if with_carbon {
        factors[factor::CARBON_DIOXIDE] = factors[factor::CARBON_DIOXIDE] / water_activity;
    }
    factors
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
    let inverse_h = N::constant(1.0) / h;
    let hydroxide = factors[factor::WATER] * inverse_h;
    let mgoh_ratio = factors[factor::MGOH] * inverse_h;
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
    let pair_h = factors[factor::MGHCO3] * h;
    let pairing = factors[factor::MGCO3] + pair_h;
    let first = factors[factor::HYDROGENCARBONATE] * h;
    let second = factors[factor::CARBON_DIOXIDE] * h * h;
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
    let mgco3 = factors[factor::MGCO3] * magnesium * carbonate;
    // Slopes of ln Mg and ln CO3 along ln h from the two balances.
    let (a11, a12) = (one_plus + pairing * carbonate, pairing * carbonate);
    let (a21, a22) = (pairing * magnesium, protonation + pairing * magnesium);
    let r1 = mgoh_ratio - pair_h * carbonate;
    let r2 = -(first + second * 2.0 + pair_h * magnesium);
    let inverse_determinant = N::constant(1.0) / (a11 * a22 - a12 * a21);
    let ln_mg = (r1 * a22 - a12 * r2) * inverse_determinant;
    let ln_co3 = (a11 * r2 - a21 * r1) * inverse_determinant;
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

/// A solved speciation nearby, from which a search can start: within a step of the stepper
/// the conditional constants move by so little that a series replaces the exponentials.
#[derive(Clone, Copy, Debug)]
pub struct Anchor {
    hydrogen: f64,
    acid_excess: f64,
    charge_slope: f64,
    /// What the ionic strength came out above its first guess, mol/kg.
    strength_above_guess: f64,
    ln: Factors<f64>,
    bare: Factors<f64>,
}

impl Anchor {
    fn of(composition: &Composition<f64>, root: &Root, charge_slope: f64) -> Self {
        Self {
            hydrogen: root.hydrogen,
            acid_excess: composition.acid_excess,
            charge_slope,
            strength_above_guess: root.ionic_strength - guessed_strength(composition),
            ln: root.ln,
            bare: root.bare,
        }
    }

    /// Acid excess that moves ln h by one, mol/kg: buffer intensity over ln 10.
    pub fn buffer_molality(&self) -> f64 {
        self.charge_slope
    }
}

/// The charge balance solved.
struct Root {
    hydrogen: f64,
    ionic_strength: f64,
    ln: Factors<f64>,
    bare: Factors<f64>,
}

/// Newton's method doubles the figures at each step: after one this small, ln h is right
/// to 10⁻¹⁰.
const LN_H_STEP: f64 = 1e-5;
/// A pass brings the ionic strength a hundred times closer: when it moved by this part,
/// what is left moves ln h by less than 10⁻⁷.
const IONIC_STRENGTH_PART: f64 = 3e-6;
/// Both loops converge in one to four passes; the bounds only guard against a hang.
const MOST_NEWTON: usize = 60;
const MOST_PASSES: usize = 40;
/// Logarithms that move by less than this need no new exponential: the series to fourth
/// order errs by less than 10⁻¹².
const SMALL_MOVE: f64 = 1e-2;

/// The first guess of the ionic strength, mol/kg. In acid h ≈ E and in base OH ≈ -E: with
/// |E| counted it is right to a few parts in 10⁴.
fn guessed_strength(composition: &Composition<f64>) -> f64 {
    0.5 * (composition.chloride + composition.sodium + 4.0 * composition.magnesium() + composition.acid_excess.abs())
        + 1e-12
}

/// Solves the zones of a beaker side by side: their searches do not wait for each other,
/// so that a processor works on both at once.
fn solve<const Z: usize>(
    compositions: &[Composition<f64>; Z],
    thermal: &Thermal<f64>,
    with_carbon: bool,
    anchors: &[Option<Anchor>; Z],
) -> [Root; Z] {
    let mut roots: [Root; Z] = core::array::from_fn(|z| {
        let mut ionic_strength = guessed_strength(&compositions[z]);
        if let Some(anchor) = &anchors[z] {
            ionic_strength += anchor.strength_above_guess.max(-0.5 * ionic_strength);
        }
        let ln = ln_factors(ionic_strength, thermal, with_carbon);
        let bare = match &anchors[z] {
            Some(anchor) => moved(&anchor.bare, &anchor.ln, &ln, with_carbon),
            None => bare_factors(&ln, with_carbon),
        };
        Root { hydrogen: 0.0, ionic_strength, ln, bare }
    });
    for pass in 0..MOST_PASSES {
        let mut searches: [Search; Z] = core::array::from_fn(|z| {
            let factors = with_water(&roots[z].bare, compositions[z].water_activity(), with_carbon);
            let guess = match pass {
                0 => guessed_hydrogen(&compositions[z], &factors, anchors[z].as_ref()),
                _ => roots[z].hydrogen,
            };
            Search::new(factors, guess)
        });
        for _ in 0..MOST_NEWTON {
            let mut done = true;
            for z in 0..Z {
                done &= searches[z].step(&compositions[z], with_carbon);
            }
            if done {
                break;
            }
        }
        let mut settled = true;
        for (root, search) in roots.iter_mut().zip(&searches) {
            root.hydrogen = search.hydrogen;
            let moved_by = (search.ionic_strength - root.ionic_strength).abs();
            settled &= moved_by <= IONIC_STRENGTH_PART * search.ionic_strength.max(1e-9);
            root.ionic_strength = search.ionic_strength;
        }
        if settled {
            break;
        }
        for root in &mut roots {
            let next = ln_factors(root.ionic_strength, thermal, with_carbon);
            root.bare = moved(&root.bare, &root.ln, &next, with_carbon);
            root.ln = next;
        }
    }
    roots
}

/// The first guess of h: along the tangent from a near anchor, else from the balance
/// without carbon.
#[inline]
fn guessed_hydrogen(composition: &Composition<f64>, factors: &Factors<f64>, anchor: Option<&Anchor>) -> f64 {
    let e = composition.acid_excess;
    if let Some(anchor) = anchor {
        // In strong acid h follows E in proportion; elsewhere along the tangent.
        let ratio = e / anchor.acid_excess;
        if anchor.hydrogen > 0.99 * anchor.charge_slope && ratio > 0.0 {
            return anchor.hydrogen * ratio;
        }
        let step = (e - anchor.acid_excess) / anchor.charge_slope;
        if step.abs() < 1.0 {
            return anchor.hydrogen * (2.0 + step) / (2.0 - step);
        }
    }
    let k = factors[factor::WATER] + composition.magnesium() * factors[factor::MGOH];
    let root = (e * e + 4.0 * k).sqrt();
    if e >= 0.0 { 0.5 * (e + root) } else { 2.0 * k / (root - e) }
}

/// Factors brought to new logarithms.
#[inline]
fn moved(bare: &Factors<f64>, from: &Factors<f64>, to: &Factors<f64>, with_carbon: bool) -> Factors<f64> {
    let mut moved = *bare;
    for i in 0..needed(with_carbon) {
        let d = to[i] - from[i];
        moved[i] *= if d.abs() < SMALL_MOVE {
            1.0 + d * (1.0 + d * (0.5 + d * (1.0 / 6.0 + d * (1.0 / 24.0))))
        } else {
            libm::exp(d)
        };
    }
    moved
}

/// Bracketed Newton in ln h at fixed conditional constants.
struct Search {
    factors: Factors<f64>,
    low: f64,
    high: f64,
    hydrogen: f64,
    ionic_strength: f64,
    done: bool,
}

impl Search {
    fn new(factors: Factors<f64>, guess: f64) -> Self {
        Self { factors, low: 0.0, high: f64::INFINITY, hydrogen: guess, ionic_strength: 0.0, done: false }
    }

    /// One step, unless it is done; whether it is.
    fn step(&mut self, composition: &Composition<f64>, with_carbon: bool) -> bool {
        if self.done {
            return true;
        }
        let h = self.hydrogen;
        let balance = balance(composition, &self.factors, with_carbon, h);
        self.ionic_strength = balance.ionic_strength;
        if balance.charge > 0.0 {
            self.high = h;
        } else {
            self.low = h;
        }
        let step = (-balance.charge / balance.charge_slope).clamp(-1.9, 1.9);
        // h e^step, by the (1,1) Padé form: the same root, no exponential.
        let next = h * (2.0 + step) / (2.0 - step);
        self.done = step.abs() <= LN_H_STEP;
        // The last step moves the ionic strength, too; by its largest part to first order.
        self.ionic_strength += 0.5 * step * (h - balance.species.hydroxide);
        self.hydrogen = if self.done || (next > self.low && next < self.high) {
            next
        } else if self.low > 0.0 && self.high.is_finite() {
            (self.low * self.high).sqrt()
        } else if step > 0.0 {
            h * 7.0
        } else {
            h / 7.0
        };
        self.done
    }
}

/// What follows once the unknowns and the factors are known.
fn finish<N: Number>(
    composition: &Composition<N>,
    factors: &Factors<N>,
    with_carbon: bool,
    hydrogen: N,
    ionic_strength: N,
) -> (Speciation<N>, Balance<N>) {
    let balance = balance(composition, factors, with_carbon, hydrogen);
    let hydrogen_gamma = factors[factor::HYDROGEN_GAMMA];
    let hydrogen_activity = hydrogen * hydrogen_gamma;
    let speciation = Speciation {
        ionic_strength,
        hydrogen_activity,
        hydrogen_gamma,
        saturation_ratio: balance.species.magnesium * factors[factor::BRUCITE]
            / (hydrogen_activity * hydrogen_activity),
        carbon_dioxide_activity: balance.species.carbon_dioxide * factors[factor::DIOXIDE_GAMMA],
        hydroxide_by_excess: balance.hydroxide_held_slope / balance.charge_slope,
        species: balance.species,
    };
    (speciation, balance)
}

/// Speciates a composition at one temperature. `with_carbon` false leaves the carbonate
/// species out altogether (they cost half of the time).
pub fn speciate(composition: &Composition<f64>, thermal: &Thermal<f64>, with_carbon: bool) -> Speciation<f64> {
    let [speciation] = speciate_all(&[*composition], thermal, with_carbon, &[None]);
    speciation
}

/// As [`speciate`], for all zones of a beaker, starting from solved neighbours where there
/// are any. The answer is the same to about 10⁻⁸ in ln h, wherever the search starts.
pub fn speciate_all<const Z: usize>(
    compositions: &[Composition<f64>; Z],
    thermal: &Thermal<f64>,
    with_carbon: bool,
    anchors: &[Option<Anchor>; Z],
) -> [Speciation<f64>; Z] {
    let roots = solve(compositions, thermal, with_carbon, anchors);
    core::array::from_fn(|z| {
        let factors = with_water(&roots[z].bare, compositions[z].water_activity(), with_carbon);
        finish(&compositions[z], &factors, with_carbon, roots[z].hydrogen, roots[z].ionic_strength).0
    })
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
    /// From the residuals of charge and ionic strength, both zero at the root.
    #[inline]
    fn of(charge: &Local, ionic_strength: &Local) -> Self {
        let (charge, strength) = (charge.slopes(), ionic_strength.slopes());
        let determinant = charge[LN_H] * strength[STRENGTH] - charge[STRENGTH] * strength[LN_H];
        Self {
            ln_h: core::array::from_fn(|p| {
                (charge[STRENGTH] * strength[p] - charge[p] * strength[STRENGTH]) / determinant
            }),
            ionic_strength: core::array::from_fn(|p| {
                (charge[p] * strength[LN_H] - charge[LN_H] * strength[p]) / determinant
            }),
        }
    }

    /// Slopes along the inputs alone, the unknowns following.
    #[inline]
    pub fn slopes(&self, number: &Local) -> [f64; INPUTS] {
        let slopes = number.slopes();
        core::array::from_fn(|p| slopes[p] + slopes[LN_H] * self.ln_h[p] + slopes[STRENGTH] * self.ionic_strength[p])
    }
}

/// As [`speciate_all`], with slopes: the roots are found on plain numbers, then the implicit
/// function theorem on the two residuals (charge, ionic strength) says how they move. With
/// each, the point to start from nearby.
pub fn speciate_with_slopes<const Z: usize>(
    compositions: &[Composition<Local>; Z],
    thermal: &Thermal<Local>,
    with_carbon: bool,
) -> [(Speciation<Local>, Elimination, Anchor); Z] {
    let plain = compositions.map(|composition| Composition {
        acid_excess: composition.acid_excess.value(),
        chloride: composition.chloride.value(),
        sodium: composition.sodium.value(),
        carbon: composition.carbon.value(),
    });
    let roots = solve(&plain, &thermal.values(), with_carbon, &[None; Z]);
    core::array::from_fn(|z| {
        let (composition, root) = (&compositions[z], &roots[z]);
        let hydrogen = Local::variable(0.0, LN_H).chain(root.hydrogen, root.hydrogen);
        let ionic_strength = Local::variable(root.ionic_strength, STRENGTH);
        let ln = ln_factors(ionic_strength, thermal, with_carbon);
        let mut factors = ln;
        for (factor, bare) in factors.iter_mut().zip(root.bare) {
            *factor = factor.chain(bare, bare);
        }
        let factors = with_water(&factors, composition.water_activity(), with_carbon);
        let (speciation, balance) = finish(composition, &factors, with_carbon, hydrogen, ionic_strength);
        let elimination = Elimination::of(&balance.charge, &(balance.ionic_strength - ionic_strength));
        (speciation, elimination, Anchor::of(&plain[z], root, balance.charge_slope.value()))
    })
}
