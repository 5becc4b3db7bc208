//! The verbs of the native command: text in, CSV text out.

use std::fmt::Write as _;

use serde_json::Value;
use turnback::chemistry::{Action, Bottle, Mixture, Parameters, Pour, Reagent, Settling, equilibrate};
use turnback::constants::CELSIUS_ZERO_K;
use turnback::course::Course;

/// What is wrong with a file, in words.
pub type Refusal = Box<dyn std::error::Error>;

/// A table read from CSV with `#` lines: columns by name.
struct Table {
    header: csv::StringRecord,
    rows: Vec<csv::StringRecord>,
}

impl Table {
    fn read(text: &str) -> Result<Self, Refusal> {
        let mut reader =
            csv::ReaderBuilder::new().comment(Some(b'#')).flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
        let header = reader.headers()?.clone();
        let rows = reader.records().collect::<Result<Vec<_>, _>>()?;
        Ok(Self { header, rows })
    }

    fn column(&self, name: &str) -> Option<usize> {
        self.header.iter().position(|title| title == name)
    }

    fn needed(&self, name: &str) -> Result<usize, Refusal> {
        self.column(name).ok_or_else(|| format!("there is no column {name}").into())
    }
}

/// The number in a cell; an absent column or an empty cell counts as `otherwise`.
fn number(row: &csv::StringRecord, column: Option<usize>, otherwise: Option<f64>) -> Result<f64, Refusal> {
    let cell = column.and_then(|i| row.get(i)).unwrap_or("");
    let line = row.position().map_or(0, csv::Position::line);
    if cell.is_empty() {
        return otherwise.ok_or_else(|| format!("line {line}: a number is missing").into());
    }
    let value: f64 = cell.parse().map_err(|_| format!("line {line}: '{cell}' is not a number"))?;
    if value.is_finite() { Ok(value) } else { Err(format!("line {line}: '{cell}' is not a finite number").into()) }
}

/// The JSON object on the first `# WORD {...}` line, if there is one.
fn json_line(text: &str, word: &str) -> Result<Option<Value>, Refusal> {
    let start = format!("# {word} ");
    match text.lines().find_map(|line| line.strip_prefix(start.as_str())) {
        Some(json) => Ok(Some(serde_json::from_str(json).map_err(|e| format!("the '# {word}' line: {e}"))?)),
        None => Ok(None),
    }
}

/// Prints a reference trajectory's path as the product computes it.
pub fn path(text: &str) -> Result<String, Refusal> {
    let case = json_line(text, "case")?.ok_or("there is no '# case' line")?;
    let params = json_line(text, "params")?.unwrap_or(Value::Null);
    let field = |name: &str, otherwise: Option<f64>| -> Result<f64, Refusal> {
        case.get(name)
            .and_then(Value::as_f64)
            .or(otherwise)
            .ok_or_else(|| format!("the '# case' line has no number {name}").into())
    };
    let start_k = field("T0_K", None)?;
    let parameters = parameters(&params);
    let mut course = Course::of_parameters(
        parameters,
        field("W0_kg", None)?,
        field("n_solid_mol", None)?,
        start_k,
        field("m_ice0_kg", Some(0.0))?,
        None,
    );
    let pour_k = pour_temperature_k(&case, start_k);
    for dose in case.get("dose_list").and_then(Value::as_array).into_iter().flatten() {
        let (at_s, pour) = read_pour(dose, pour_k)?;
        course.act(at_s, Action::Pour(pour))?;
    }
    let table = Table::read(text)?;
    let time = table.needed("t_s")?;
    let last = table.rows.last().ok_or("there is no row")?;
    let end_s = number(last, Some(time), None)?;
    course.reach(end_s)?;
    let mut out = String::from(
        "t_s,pH_bulk,pH_plume,T_K,W_kg,S_total_mol,Mg_diss_total_mol,I_bulk,Omega_bulk,m_ice_kg\n",
    );
    let mut half_seconds = 0u32;
    while f64::from(half_seconds) * 0.5 <= end_s + 1e-9 {
        let r = course.reading(f64::from(half_seconds) * 0.5);
        writeln!(
            out,
            "{:.1},{:.9},{:.9},{:.8},{:.10},{:.12e},{:.12e},{:.9e},{:.9e},{:.10e}",
            f64::from(half_seconds) * 0.5,
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
        half_seconds += 1;
    }
    Ok(out)
}

/// Temperature of the pours: the case says "dose at 294.15 K" or "dose at T0".
fn pour_temperature_k(case: &Value, start_k: f64) -> f64 {
    let words = case.get("doses").and_then(Value::as_str).unwrap_or("");
    match words.split("dose at ").nth(1).and_then(|rest| rest.split_whitespace().next()) {
        Some("T0") => start_k,
        Some(kelvin) => kelvin.parse().unwrap_or(Parameters::REFERENCE.room_k),
        None => Parameters::REFERENCE.room_k,
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
    let pour = Pour {
        reagent,
        volume_ml: number(2)?,
        concentration_mol_l: number(3)?,
        duration_s: number(4)?,
        temperature_k,
    };
    Ok((number(0)?, pour))
}

/// The parameters of a reference file; what is absent is as in the first of them.
fn parameters(params: &Value) -> Parameters {
    let reference = Parameters::REFERENCE;
    let read = |name: &str, otherwise: f64| params.get(name).and_then(Value::as_f64).unwrap_or(otherwise);
    Parameters {
        bottle: Bottle {
            acid_factor: read("f_acid", reference.bottle.acid_factor),
            acid_area_m2_g: read("S_eff", reference.bottle.acid_area_m2_g),
            neutral_area_m2_g: read("S_neut", reference.bottle.neutral_area_m2_g),
            carbonate_mol_per_mol: read("x_c", 0.0),
        },
        plume_share: read("phi", reference.plume_share),
        mixing_s: read("tau_mix", reference.mixing_s),
        floc_diameter_m: read("d_agg", reference.floc_diameter_m),
        floc_solid_share: read("phi_agg", reference.floc_solid_share),
        sherwood: (read("mt", 1.0) != 0.0).then(|| read("Sh", 2.2)),
        affinity_exponent: read("p_om", reference.affinity_exponent),
        affinity_bound: read("Om1", reference.affinity_bound),
        area_rounding: read("eps_x", reference.area_rounding),
        nucleation_mol_kg_s: if read("nuc", 1.0) != 0.0 { read("k_nuc", reference.nucleation_mol_kg_s) } else { 0.0 },
        nucleation_log_omega: read("lOmc", reference.nucleation_log_omega),
        settling: Settling::Speed(read("v_set", 0.0)),
        depth_m: read("H_liq", reference.depth_m),
        settled_reactivity: read("eta_sed", reference.settled_reactivity),
        resuspension_s: None,
        gas_transfer_m_s: read("kL", 0.0),
        surface_m2: read("A_surf", reference.surface_m2),
        carbon_dioxide_atm: read("pCO2", reference.carbon_dioxide_atm),
        held: read("iso", 0.0) != 0.0,
        room_w_k: read("UA_room", reference.room_w_k),
        room_k: read("T_room", reference.room_k),
        bath_w_k: read("UA_bath", reference.bath_w_k),
        bath_k: read("T_bath", reference.bath_k),
        plate_max_w: read("P_max", reference.plate_max_w),
        plate_set_k: read("T_set", reference.plate_set_k),
        plate_gain_w_k: read("Kp", reference.plate_gain_w_k),
        vessel_j_k: read("C_vessel", reference.vessel_j_k),
        ice_w_k: read("hA_ice", reference.ice_w_k),
        ice_reference_kg: read("m_ice_ref", reference.ice_reference_kg),
    }
}

/// Brings each row's mixture to rest.
pub fn equilibrium(text: &str) -> Result<String, Refusal> {
    let table = Table::read(text)?;
    let [temperature, water, brucite, acid, base] =
        ["T_C", "W_kg", "brucite_mol", "HCl_mol", "NaOH_mol"].map(|name| table.needed(name));
    let (temperature, water, brucite, acid, base) = (temperature?, water?, brucite?, acid?, base?);
    let (chloride, carbon) = (table.column("MgCl2_mol"), table.column("CO2_mol"));
    let mut out = String::from("pH,I,Mg_molkgw,brucite_left_mol\n");
    for row in &table.rows {
        let mixture = Mixture {
            water_kg: number(row, Some(water), None)?,
            brucite_mol: number(row, Some(brucite), None)?,
            acid_mol: number(row, Some(acid), None)?,
            base_mol: number(row, Some(base), None)?,
            magnesium_chloride_mol: number(row, chloride, Some(0.0))?,
            carbon_dioxide_mol: number(row, carbon, Some(0.0))?,
        };
        let rest = equilibrate(&mixture, number(row, Some(temperature), None)? + CELSIUS_ZERO_K);
        writeln!(
            out,
            "{:.8},{:.8e},{:.8e},{:.8e}",
            rest.speciation.ph(),
            rest.speciation.ionic_strength,
            rest.magnesium_molality,
            rest.brucite_left_mol
        )?;
    }
    Ok(out)
}
