//! `path FILE`: a reference trajectory's case as the product computes it.

use std::fmt::Write as _;

use serde_json::Value;
use turnback::chemistry::{Action, Bottle, Parameters, Pour, Reagent, Settling};
use turnback::course::Course;

use super::Refusal;
use super::table::Table;

/// A row every half second.
const ROWS_PER_S: f64 = 2.0;
/// A day: the longest path that is printed, s.
const LONGEST_S: f64 = 86_400.0;

/// Prints the path of the case that the file's `# case` and `# params` lines describe, to
/// the time in its last row.
pub fn path(text: &str) -> Result<String, Refusal> {
    let case = Line::find(text, "case")?.ok_or("there is no line '# case {...}' to say what is in the beaker")?;
    let params = Line::find(text, "params")?.unwrap_or(Line { word: "params", value: Value::Null });
    let table = Table::read(text)?;
    let time = table.needed("t_s")?;
    let last = table.rows().last().ok_or("there is no row below the header: no time to go to")?;
    let end_s = time.number(last, 0.0, LONGEST_S)?;
    let mut course = begin(&case, &params)?;
    let pour_k = pour_temperature_k(&case)?;
    let mut pours = match case.value.get("dose_list") {
        None | Some(Value::Null) => Vec::new(),
        Some(Value::Array(doses)) => doses.iter().map(|dose| read_pour(dose, pour_k)).collect::<Result<_, _>>()?,
        Some(other) => return Err(format!("the '# case' line: dose_list is no list but {other}").into()),
    };
    pours.sort_by(|(one_s, _), (other_s, _)| one_s.total_cmp(other_s));
    for (at_s, pour) in pours.into_iter().filter(|(at_s, _)| *at_s <= end_s) {
        course.act(at_s, Action::Pour(pour))?;
    }
    course.reach(end_s)?;
    let mut out =
        String::from("t_s,pH_bulk,pH_plume,T_K,W_kg,S_total_mol,Mg_diss_total_mol,I_bulk,Omega_bulk,m_ice_kg\n");
    // A last time that was rounded when it was printed still gets its row.
    let rows = ((end_s + 1e-9) * ROWS_PER_S).floor() as u32;
    for row in 0..=rows {
        let time_s = f64::from(row) / ROWS_PER_S;
        let r = course.reading(time_s);
        writeln!(
            out,
            "{time_s:.1},{:.9},{:.9},{:.8},{:.10},{:.12e},{:.12e},{:.9e},{:.9e},{:.10e}",
            r.ph,
            r.plume_ph,
            r.temperature_k,
            r.water_kg,
            r.solid_mol(),
            r.magnesium_mol,
            r.ionic_strength,
            r.saturation_ratio,
            r.ice_kg
        )?;
    }
    Ok(out)
}

/// The JSON object of a `# WORD {...}` line.
struct Line {
    word: &'static str,
    value: Value,
}

impl Line {
    /// The first such line, if there is one.
    fn find(text: &str, word: &'static str) -> Result<Option<Self>, Refusal> {
        let json = text.lines().find_map(|line| {
            let rest = line.strip_prefix('#')?.trim_start().strip_prefix(word)?;
            rest.starts_with([' ', '\t', '{']).then_some(rest)
        });
        let Some(json) = json else { return Ok(None) };
        let value: Value = serde_json::from_str(json).map_err(|e| format!("the '# {word}' line is not JSON: {e}"))?;
        if value.is_object() {
            Ok(Some(Self { word, value }))
        } else {
            Err(format!("the '# {word}' line holds no object").into())
        }
    }

    /// A number within bounds; absent counts as `otherwise`.
    fn number(&self, name: &str, otherwise: Option<f64>, least: f64, most: f64) -> Result<f64, Refusal> {
        let word = self.word;
        let value = match self.value.get(name) {
            None | Some(Value::Null) => otherwise.ok_or_else(|| format!("the '# {word}' line does not give {name}"))?,
            // Switches may be written as true and false.
            Some(Value::Bool(on)) => f64::from(u8::from(*on)),
            Some(other) => {
                other.as_f64().ok_or_else(|| format!("the '# {word}' line: {name} is not a number but {other}"))?
            }
        };
        if value >= least && value <= most {
            Ok(value)
        } else {
            Err(format!("the '# {word}' line: {name} is {value}, not between {least} and {most}").into())
        }
    }
}

/// Temperatures, K, that a beaker or a pour can have.
const TEMPERATURES_K: (f64, f64) = (263.15, 348.15);

/// The beaker at time 0.
fn begin(case: &Line, params: &Line) -> Result<Course, Refusal> {
    Ok(Course::of_parameters(
        parameters(params)?,
        case.number("W0_kg", None, 1e-6, 1e6)?,
        case.number("n_solid_mol", None, 0.0, 1e6)?,
        case.number("T0_K", None, TEMPERATURES_K.0, TEMPERATURES_K.1)?,
        case.number("m_ice0_kg", Some(0.0), 0.0, 1e6)?,
        None,
    ))
}

/// Temperature of the pours, K: the case says "dose at 294.15 K" or "dose at T0".
fn pour_temperature_k(case: &Line) -> Result<f64, Refusal> {
    let words = case.value.get("doses").and_then(Value::as_str).unwrap_or("");
    let word = words.split("dose at ").nth(1).and_then(|rest| rest.split_whitespace().next());
    match word {
        Some("T0") => case.number("T0_K", None, TEMPERATURES_K.0, TEMPERATURES_K.1),
        Some(kelvin) => {
            kelvin.parse().map_err(|_| format!("the '# case' line: 'dose at {kelvin}' is no temperature").into())
        }
        None => Ok(Parameters::REFERENCE.room_k),
    }
}

/// One `[t_s, reagent, mL, mol/L, duration_s]`.
fn read_pour(dose: &Value, temperature_k: f64) -> Result<(f64, Pour), Refusal> {
    let number = |i: usize| -> Result<f64, Refusal> {
        dose.get(i).and_then(Value::as_f64).ok_or_else(|| format!("dose {dose}: entry {i} is not a number").into())
    };
    let reagent = match dose.get(1).and_then(Value::as_str).map(str::to_ascii_lowercase).as_deref() {
        Some("hcl") => Reagent::Acid,
        Some("naoh") => Reagent::Base,
        _ => return Err(format!("dose {dose}: the reagent is neither hcl nor naoh").into()),
    };
    let pour =
        Pour { reagent, volume_ml: number(2)?, concentration_mol_l: number(3)?, duration_s: number(4)?, temperature_k };
    Ok((number(0)?, pour))
}

/// The parameters of a reference file; what is absent is as in the first of them.
fn parameters(params: &Line) -> Result<Parameters, Refusal> {
    let reference = Parameters::REFERENCE;
    let read = |name: &str, otherwise: f64| params.number(name, Some(otherwise), 0.0, 1e9);
    let positive = |name: &str, otherwise: f64| params.number(name, Some(otherwise), 1e-12, 1e9);
    let switch = |name: &str, otherwise: f64| read(name, otherwise).map(|value| value != 0.0);
    Ok(Parameters {
        bottle: Bottle {
            acid_factor: read("f_acid", reference.bottle.acid_factor)?,
            acid_area_m2_g: positive("S_eff", reference.bottle.acid_area_m2_g)?,
            neutral_area_m2_g: read("S_neut", reference.bottle.neutral_area_m2_g)?,
            carbonate_mol_per_mol: read("x_c", 0.0)?,
            ..reference.bottle
        },
        plume_share: params.number("phi", Some(reference.plume_share), 1e-6, 1.0 - 1e-6)?,
        mixing_s: positive("tau_mix", reference.mixing_s)?,
        floc_diameter_m: positive("d_agg", reference.floc_diameter_m)?,
        floc_solid_share: positive("phi_agg", reference.floc_solid_share)?,
        sherwood: if switch("mt", 1.0)? { Some(positive("Sh", 2.2)?) } else { None },
        affinity_exponent: positive("p_om", reference.affinity_exponent)?,
        affinity_bound: positive("Om1", reference.affinity_bound)?,
        area_rounding: positive("eps_x", reference.area_rounding)?,
        nucleation_mol_kg_s: if switch("nuc", 1.0)? { read("k_nuc", reference.nucleation_mol_kg_s)? } else { 0.0 },
        nucleation_log_omega: read("lOmc", reference.nucleation_log_omega)?,
        settling: Settling::Speed(read("v_set", 0.0)?),
        depth_m: positive("H_liq", reference.depth_m)?,
        settled_reactivity: read("eta_sed", reference.settled_reactivity)?,
        resuspension_s: None,
        gas_transfer_m_s: read("kL", 0.0)?,
        surface_m2: read("A_surf", reference.surface_m2)?,
        carbon_dioxide_atm: read("pCO2", reference.carbon_dioxide_atm)?,
        held: switch("iso", 0.0)?,
        room_w_k: read("UA_room", reference.room_w_k)?,
        room_k: read("T_room", reference.room_k)?,
        bath_w_k: read("UA_bath", reference.bath_w_k)?,
        bath_k: read("T_bath", reference.bath_k)?,
        plate_max_w: read("P_max", reference.plate_max_w)?,
        plate_set_k: read("T_set", reference.plate_set_k)?,
        plate_gain_w_k: read("Kp", reference.plate_gain_w_k)?,
        vessel_j_k: read("C_vessel", reference.vessel_j_k)?,
        ice_w_k: read("hA_ice", reference.ice_w_k)?,
        ice_reference_kg: positive("m_ice_ref", reference.ice_reference_kg)?,
    })
}
