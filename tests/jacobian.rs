//! The beaker's Jacobian, written out by the chain rule, against finite differences of its
//! rates: every entry, in every regime that the equations have branches for.

use turnback::chemistry::{Bath, Beaker, Inflow, ONE_ZONE, Parameters, Pour, Reagent, Setup, TWO_ZONES};
use turnback::constants::{NEUTRALISATION_ENTHALPY_J_MOL, WATER_G_MOL, WATER_HEAT_CAPACITY_J_KG_K};
use turnback::numerics::Equations;

type Split = Beaker<2, TWO_ZONES>;
type Merged = Beaker<1, ONE_ZONE>;

/// Steps of the differences, as a part of a state or of what is little of it. The error of a
/// central difference goes with its square, rounding with its inverse: 1e-9 and 1e-8 here.
const PART: f64 = 1e-5;
/// So much of a state is little, in its unit.
const LITTLE: f64 = 1e-6;
/// Largest departure of an entry, as a part of the sum of all entries' sizes in its row, each
/// weighed with its state.
const DEPARTURE: f64 = 1e-6;
/// The rows of heat and water leave out how the hydroxide's share of the acid excess moves
/// with anything but ln h (`slopes.rs`). That share lies between -1 and 0 and goes from one to
/// the other over two units of ln h, and so with the logarithms of the constants and amounts
/// that ln h is compared with; of these water's constant goes fastest with the temperature,
/// by 0.075 a kelvin, 22 over all of 294 K.
const SHARE_BY_AMOUNT: f64 = 0.3;
const SHARE_BY_TEMPERATURE: f64 = 22.0 * SHARE_BY_AMOUNT;

/// A situation: parameters, what is poured, and the state with plume and bulk.
struct Case {
    name: &'static str,
    parameters: Parameters,
    inflow: Option<Inflow>,
    y: [f64; TWO_ZONES],
}

fn setup() -> Setup {
    Setup { bath: Bath::Room, ..Setup::of_suspension(500.0, 15.0, 80.0, 294.15) }
}

/// The beaker at rest, with so much acid (mol) in the plume and in the bulk and so much of the
/// solid dissolved by it.
fn state(setup: &Setup, acid_mol: [f64; 2], reacted: [f64; 2]) -> [f64; TWO_ZONES] {
    let one = setup.start();
    let mut y = [0.0; TWO_ZONES];
    for (two, single) in Split::OF_ZONES.into_iter().zip(Merged::OF_ZONES) {
        y[two] = 0.06 * one[single];
        y[two + 1] = 0.94 * one[single];
    }
    for (two, single) in Split::SHARED.into_iter().zip(Merged::SHARED) {
        y[two] = one[single];
    }
    for z in 0..2 {
        y[Split::CHLORIDE + z] += acid_mol[z];
        y[Split::ACID_EXCESS + z] += acid_mol[z] * (1.0 - reacted[z]);
        y[Split::SOLID + z] -= 0.5 * acid_mol[z] * reacted[z];
        y[Split::CARBON + z] += 1e-3 * acid_mol[z] * reacted[z];
    }
    y
}

fn pour(reagent: Reagent) -> Option<Inflow> {
    let pour = Pour { reagent, volume_ml: 2.0, concentration_mol_l: 3.0, duration_s: 1.0, temperature_k: 293.0 };
    Some(pour.inflow())
}

fn cases() -> Vec<Case> {
    let room = setup();
    let acid = state(&room, [1e-3, 5e-3], [0.2, 0.5]);
    let case = |name, parameters, inflow, y| Case { name, parameters, inflow, y };
    let mut cases = vec![
        case("at rest", room.parameters(), None, state(&room, [0.0; 2], [0.0; 2])),
        case("in acid", room.parameters(), None, acid),
        case("near neutral", room.parameters(), None, state(&room, [4e-4, 5e-3], [1.0, 1.0])),
        case("a green pause", room.parameters(), None, state(&room, [4e-4, 5e-3], [1.0005, 1.0005])),
        case("acid is poured", room.parameters(), pour(Reagent::Acid), acid),
        case("without carbon", Parameters::REFERENCE, pour(Reagent::Acid), acid),
        case("held", Setup { bath: Bath::Held, ..room }.parameters(), None, acid),
        case("in a bath", Setup { bath: Bath::Around { bath_k: 308.15 }, ..room }.parameters(), None, acid),
        case(
            "on a hot plate that is nearly there",
            Setup { bath: Bath::HotPlate { set_k: 295.0, max_w: 300.0 }, ..room }.parameters(),
            None,
            acid,
        ),
        case(
            "on a hot plate at its full power",
            Setup { bath: Bath::HotPlate { set_k: 323.0, max_w: 300.0 }, ..room }.parameters(),
            None,
            acid,
        ),
    ];
    // Base into what the acid has dissolved: the plume is far above saturation.
    let mut base = acid;
    base[Split::SODIUM] += 2e-3;
    base[Split::ACID_EXCESS] -= 2e-3;
    cases.push(case("base is poured", room.parameters(), pour(Reagent::Base), base));
    // The stirrer is off, some solid lies on the ground.
    let mut slow = room.parameters();
    slow.stir(0.0);
    let mut settling = acid;
    settling[Split::SETTLED] = 2e-3;
    cases.push(case("settling", slow, None, settling));
    cases.push(case("taken up again", room.parameters(), None, settling));
    // Ice, with the salt that lowers its melting point.
    let mut ice = acid;
    ice[Split::ICE] = 0.05;
    ice[Split::TEMPERATURE] = 276.0;
    ice[Split::SODIUM + 1] += 1e-3;
    cases.push(case("ice melts", Setup { ice_kg: 0.1, ..room }.parameters(), None, ice));
    // The last of the solid, and none.
    let mut last = acid;
    last[Split::SOLID..][..2].copy_from_slice(&[3e-9, 6e-8]);
    cases.push(case("the last of the solid", room.parameters(), None, last));
    last[Split::SOLID..][..2].fill(0.0);
    cases.push(case("clear acid", room.parameters(), None, last));
    cases
}

/// Rates of the equations, with nothing kept from before.
fn rates<const N: usize, E: Equations<N> + Copy>(mut equations: E, y: &[f64; N]) -> ([f64; N], [[f64; N]; N]) {
    let (mut rates, mut jacobian) = ([0.0; N], [[0.0; N]; N]);
    equations.linearise(y, &mut rates, &mut jacobian);
    (rates, jacobian)
}

fn check<const Z: usize, const N: usize>(name: &str, beaker: Beaker<Z, N>, y: &[f64; N]) {
    let (rate, jacobian) = rates(beaker, y);
    let size: [f64; N] = y.map(|y| y.abs().max(LITTLE));
    let mut differences = [[0.0; N]; N];
    for j in 0..N {
        let step = PART * size[j];
        let moved = |by: f64| {
            let mut moved = *y;
            moved[j] += by;
            rates(beaker, &moved).0
        };
        // At a kink, such as no solid at all, the slope is the one from above.
        let kink = y[j] == 0.0;
        let (above, below) = if kink { (moved(2.0 * step), moved(0.0)) } else { (moved(step), moved(-step)) };
        for i in 0..N {
            differences[i][j] = (above[i] - below[i]) / (2.0 * step);
        }
    }
    for i in 0..N {
        let scale: f64 = (0..N).map(|j| (differences[i][j] * size[j]).abs()).sum();
        // What a mole of hydroxide made to water is in this row.
        let by_hydroxide = match i {
            _ if i == Beaker::<Z, N>::WATER => WATER_G_MOL * 1e-3,
            _ if i == Beaker::<Z, N>::TEMPERATURE && !beaker.parameters.held => {
                let water_kg = y[Beaker::<Z, N>::WATER];
                NEUTRALISATION_ENTHALPY_J_MOL / (water_kg * WATER_HEAT_CAPACITY_J_KG_K + beaker.parameters.vessel_j_k)
            }
            _ => 0.0,
        };
        let moved_mol_s: f64 = rate[Beaker::<Z, N>::ACID_EXCESS..][..Z].iter().map(|rate| rate.abs()).sum();
        let left_out = moved_mol_s * by_hydroxide.abs();
        for j in 0..N {
            // Solid and ice that are not there are held at nothing: no slope is asked for.
            let gone = [Beaker::<Z, N>::ICE, Beaker::<Z, N>::SETTLED].contains(&j) && y[j] == 0.0;
            let gone = gone || (y[j] == 0.0 && (Beaker::<Z, N>::SOLID..Beaker::<Z, N>::CARBON + Z).contains(&j));
            let departure = (jacobian[i][j] - differences[i][j]).abs() * size[j];
            let share = if j == Beaker::<Z, N>::TEMPERATURE { SHARE_BY_TEMPERATURE } else { SHARE_BY_AMOUNT };
            let allowed = DEPARTURE * scale + share * left_out + f64::MIN_POSITIVE;
            assert!(
                gone || departure <= allowed,
                "{name}, {Z} zones, row {i}, column {j}: {:e}, by differences {:e}",
                jacobian[i][j],
                differences[i][j],
            );
        }
    }
}

#[test]
fn every_entry_equals_its_finite_difference() {
    for Case { name, parameters, inflow, y } in cases() {
        check(name, Split::new(parameters, inflow), &y);
        // The bulk alone, as one zone.
        let mut one = [0.0; ONE_ZONE];
        for (two, single) in Split::OF_ZONES.into_iter().zip(Merged::OF_ZONES) {
            one[single] = y[two] + y[two + 1];
        }
        for (two, single) in Split::SHARED.into_iter().zip(Merged::SHARED) {
            one[single] = y[two];
        }
        check(name, Merged::new(parameters, inflow), &one);
    }
}

#[test]
fn what_is_kept_from_a_step_does_not_change_the_rates() {
    for Case { name, parameters, inflow, y } in cases() {
        let mut beaker = Split::new(parameters, inflow);
        let (mut unused, mut matrix) = ([0.0; TWO_ZONES], [[0.0; TWO_ZONES]; TWO_ZONES]);
        beaker.linearise(&y, &mut unused, &mut matrix);
        for part in [1e-4, 1e-2, 0.3] {
            let mut near = y;
            for (i, y) in near.iter_mut().enumerate().take(Split::WATER) {
                *y *= 1.0 + part * if i % 2 == 0 { 1.0 } else { -0.7 };
            }
            let (kept, exact) = (beaker.rates(&near), rates(Split::new(parameters, inflow), &near).0);
            for i in 0..TWO_ZONES {
                // A stage's search stops when ln h is right to 3·10⁻⁷: see `search.rs`.
                let scale = exact[i].abs() + 1e-3 * near[i].abs();
                assert!((kept[i] - exact[i]).abs() <= 1e-6 * scale, "{name}, {part}, row {i}: {kept:?}, {exact:?}");
            }
        }
    }
}
