//! The charge balance of a liquid at a trial hydrogen molality, and how it answers when
//! anything in it moves.
//!
//! Magnesium: Mg (1 + q/h + p CO3) = Mg_total; carbon: CO3 (b + p Mg) = C_total, with q/h
//! from MgOH⁺, p the pairing and b the protonation: a quadratic in Mg.

use super::factors::{Factors, factor};
use super::speciation::Composition;

/// A liquid at one hydrogen molality. Molalities in mol/kg; slopes "along ln h" at fixed
/// totals.
#[derive(Clone, Copy, Debug)]
pub struct Balance {
    /// Surplus of positive charge, mol/kg; zero at the solution.
    pub charge: f64,
    /// d charge / d ln h, always > 0: the buffer intensity over ln 10.
    pub charge_slope: f64,
    /// Ionic strength that these molalities make, mol/kg.
    pub ionic_strength: f64,
    /// OH⁻ and MgOH⁺ along ln h.
    pub hydroxide_slope: f64,
    /// H⁺
    pub hydrogen: f64,
    /// OH⁻
    pub hydroxide: f64,
    /// Mg²⁺
    pub magnesium: f64,
    /// CO₃²⁻
    pub carbonate: f64,
    /// ln Mg along ln h.
    pub ln_magnesium: f64,
    /// ln CO3 along ln h.
    pub ln_carbonate: f64,
    /// MgOH⁺ over Mg²⁺.
    pub mgoh_ratio: f64,
    /// HCO₃⁻ over CO₃²⁻.
    pub first: f64,
    /// CO₂ over CO₃²⁻.
    pub second: f64,
    /// MgCO₃ over Mg²⁺ CO₃²⁻, kg/mol.
    pub pair: f64,
    /// MgHCO₃⁺ over Mg²⁺ CO₃²⁻, kg/mol.
    pub pair_h: f64,
}

impl Balance {
    /// None yet.
    pub const NONE: Self = Self {
        charge: 0.0,
        charge_slope: 0.0,
        ionic_strength: 0.0,
        hydroxide_slope: 0.0,
        hydrogen: 0.0,
        hydroxide: 0.0,
        magnesium: 0.0,
        carbonate: 0.0,
        ln_magnesium: 0.0,
        ln_carbonate: 0.0,
        mgoh_ratio: 0.0,
        first: 0.0,
        second: 0.0,
        pair: 0.0,
        pair_h: 0.0,
    };

    /// The balance at a hydrogen molality; `with_carbon` false leaves carbonate out, which
    /// costs half of the time.
    #[inline]
    pub fn of(composition: &Composition, factors: &Factors, with_carbon: bool, h: f64) -> Self {
        let total_mg = composition.magnesium();
        let inverse_h = 1.0 / h;
        let hydroxide = factors[factor::WATER] * inverse_h;
        let mgoh_ratio = factors[factor::MGOH] * inverse_h;
        let one_plus = mgoh_ratio + 1.0;
        let base = composition.chloride + composition.sodium + h + hydroxide;
        if !with_carbon {
            let magnesium = total_mg / one_plus;
            let mgoh = magnesium * mgoh_ratio;
            // d ln Mg / d ln h = ratio / (1 + ratio).
            let mgoh_slope = -mgoh / one_plus;
            return Self {
                charge: h - hydroxide - mgoh - composition.acid_excess,
                charge_slope: h + hydroxide - mgoh_slope,
                ionic_strength: 0.5 * (base + mgoh + 4.0 * magnesium),
                hydroxide_slope: mgoh_slope - hydroxide,
                hydrogen: h,
                hydroxide,
                magnesium,
                carbonate: 0.0,
                ln_magnesium: mgoh_ratio / one_plus,
                ln_carbonate: 0.0,
                mgoh_ratio,
                first: 0.0,
                second: 0.0,
                pair: 0.0,
                pair_h: 0.0,
            };
        }
        let pair = factors[factor::MGCO3];
        let pair_h = factors[factor::MGHCO3] * h;
        let pairing = pair + pair_h;
        let first = factors[factor::HYDROGENCARBONATE] * h;
        let second = factors[factor::CARBON_DIOXIDE] * h * h;
        let protonation = first + second + 1.0;
        let linear = one_plus * protonation + pairing * (composition.carbon - total_mg);
        let root = (linear * linear + 4.0 * (one_plus * pairing) * (total_mg * protonation)).sqrt();
        // The form of the root that does not cancel.
        let magnesium = if linear >= 0.0 {
            2.0 * total_mg * protonation / (linear + root)
        } else {
            (root - linear) / (2.0 * one_plus * pairing)
        };
        let carbonate = composition.carbon / (protonation + pairing * magnesium);
        let mgoh = mgoh_ratio * magnesium;
        let hydrogencarbonate = first * carbonate;
        let paired = magnesium * carbonate;
        let (mgco3, mghco3) = (pair * paired, pair_h * paired);
        // Slopes of ln Mg and ln CO3 along ln h from the two balances.
        let (a11, a12) = (one_plus + pairing * carbonate, pairing * carbonate);
        let (a21, a22) = (pairing * magnesium, protonation + pairing * magnesium);
        let r1 = mgoh_ratio - pair_h * carbonate;
        let r2 = -(first + 2.0 * second + pair_h * magnesium);
        let inverse_determinant = 1.0 / (a11 * a22 - a12 * a21);
        let ln_magnesium = (r1 * a22 - a12 * r2) * inverse_determinant;
        let ln_carbonate = (a11 * r2 - a21 * r1) * inverse_determinant;
        let mgoh_slope = mgoh * (ln_magnesium - 1.0);
        let both = ln_magnesium + ln_carbonate;
        let carbon_slope = hydrogencarbonate * (ln_carbonate + 1.0)
            + 2.0 * (carbonate * ln_carbonate + mgco3 * both)
            + mghco3 * (both + 1.0);
        Self {
            charge: h
                - hydroxide
                - mgoh
                - hydrogencarbonate
                - 2.0 * (carbonate + mgco3)
                - mghco3
                - composition.acid_excess,
            charge_slope: h + hydroxide - mgoh_slope - carbon_slope,
            ionic_strength: 0.5 * (base + mgoh + hydrogencarbonate + mghco3 + 4.0 * (magnesium + carbonate)),
            hydroxide_slope: mgoh_slope - hydroxide,
            hydrogen: h,
            hydroxide,
            magnesium,
            carbonate,
            ln_magnesium,
            ln_carbonate,
            mgoh_ratio,
            first,
            second,
            pair,
            pair_h,
        }
    }

    /// CO₂(aq), mol/kg.
    #[inline]
    pub fn carbon_dioxide(&self) -> f64 {
        self.second * self.carbonate
    }

    /// Change of OH⁻ and MgOH⁺ with the acid excess at fixed totals, dimensionless, -1 to 0.
    #[inline]
    pub fn hydroxide_by_excess(&self) -> f64 {
        self.hydroxide_slope / self.charge_slope
    }

    /// The matrix of the two balances in Mg and CO3.
    fn matrix(&self) -> [[f64; 2]; 2] {
        let pairing = self.pair + self.pair_h;
        [
            [1.0 + self.mgoh_ratio + pairing * self.carbonate, pairing * self.magnesium],
            [pairing * self.carbonate, 1.0 + self.first + self.second + pairing * self.magnesium],
        ]
    }

    /// The answer to a small move.
    pub fn answer(&self, to: &Move) -> Answer {
        let [mg, co3, h, oh] = [self.magnesium, self.carbonate, self.hydrogen, self.hydroxide];
        let (mgco3, mghco3) = (self.pair * mg * co3, self.pair_h * mg * co3);
        let ln = &to.ln_factors;
        // What each form would take up if Mg²⁺ and CO₃²⁻ stood still.
        let mgoh_up = self.mgoh_ratio * mg * (ln[factor::MGOH] - to.ln_h);
        let first_up = self.first * co3 * (ln[factor::HYDROGENCARBONATE] + to.ln_h);
        let second_up = self.second * co3 * (ln[factor::CARBON_DIOXIDE] + 2.0 * to.ln_h);
        let pair_up = mgco3 * ln[factor::MGCO3];
        let pair_h_up = mghco3 * (ln[factor::MGHCO3] + to.ln_h);
        let left =
            [to.magnesium - mgoh_up - pair_up - pair_h_up, to.carbon - first_up - second_up - pair_up - pair_h_up];
        let [[a11, a12], [a21, a22]] = self.matrix();
        let inverse = 1.0 / (a11 * a22 - a12 * a21);
        let magnesium = (left[0] * a22 - a12 * left[1]) * inverse;
        let carbonate = (a11 * left[1] - a21 * left[0]) * inverse;
        let paired = magnesium * co3 + mg * carbonate;
        let mgoh = mgoh_up + self.mgoh_ratio * magnesium;
        let hydrogencarbonate = first_up + self.first * carbonate;
        let carbon_dioxide = second_up + self.second * carbonate;
        let mgco3 = pair_up + self.pair * paired;
        let mghco3 = pair_h_up + self.pair_h * paired;
        let (hydrogen, hydroxide) = (h * to.ln_h, oh * (ln[factor::WATER] - to.ln_h));
        Answer {
            charge: hydrogen - hydroxide - mgoh - hydrogencarbonate - 2.0 * (carbonate + mgco3) - mghco3,
            ionic_strength: 0.5
                * (hydrogen + hydroxide + mgoh + hydrogencarbonate + mghco3 + 4.0 * (magnesium + carbonate)),
            magnesium,
            carbon_dioxide,
        }
    }

    /// Slope of [`Self::hydroxide_by_excess`] along ln h.
    pub fn hydroxide_by_excess_slope(&self) -> f64 {
        let (a, b) = (self.ln_magnesium, self.ln_carbonate);
        let [mg, co3] = [self.magnesium, self.carbonate];
        let square = |x: f64| x * x;
        let (mgoh, pair, pair_h) = (square(a - 1.0), square(a + b), square(a + b + 1.0));
        let (first, second) = (square(b + 1.0), square(b + 2.0));
        // Second slopes of ln Mg and ln CO3, from the balances' second slopes, which are zero.
        let left = [
            -(a * a + self.mgoh_ratio * mgoh + co3 * (self.pair * pair + self.pair_h * pair_h)),
            -(b * b + self.first * first + self.second * second + mg * (self.pair * pair + self.pair_h * pair_h)),
        ];
        let [[a11, across_mg], [across_co3, a22]] = self.matrix();
        let inverse = 1.0 / (a11 * a22 - across_mg * across_co3);
        let x = (left[0] * a22 - across_co3 * left[1]) * inverse;
        let y = (a11 * left[1] - across_mg * left[0]) * inverse;
        let mgoh = self.mgoh_ratio * mg * (mgoh + x);
        let carbon = co3
            * (self.first * (first + y)
                + 2.0 * (b * b + y)
                + mg * (2.0 * self.pair * (pair + x + y) + self.pair_h * (pair_h + x + y)));
        let held = self.hydroxide + mgoh;
        let charge = self.hydrogen - held - carbon;
        (held - self.hydroxide_by_excess() * charge) / self.charge_slope
    }
}

/// A small move of everything that a balance rests on.
#[derive(Clone, Copy, Debug, Default)]
pub struct Move {
    /// Of ln h.
    pub ln_h: f64,
    /// Of the logarithms of the factors.
    pub ln_factors: Factors,
    /// Of the dissolved magnesium, all forms, mol/kg.
    pub magnesium: f64,
    /// Of the dissolved carbon, all forms, mol/kg.
    pub carbon: f64,
}

/// What follows from a small move.
#[derive(Clone, Copy, Debug)]
pub struct Answer {
    /// Of the charge, but for the acid excess itself, mol/kg.
    pub charge: f64,
    /// Of the ionic strength, but for chloride and sodium themselves, mol/kg.
    pub ionic_strength: f64,
    /// Of Mg²⁺, mol/kg.
    pub magnesium: f64,
    /// Of CO₂(aq), mol/kg.
    pub carbon_dioxide: f64,
}
