//! `kickstill gains`: the software's settings, to be carried to the real firmware.

use kickstill_rig::report::{Origin, gains, gains_csv, gains_header, gains_markdown};
use serde_json::{Value, json};

use crate::args::{GainsForm, GainsOrder};
use crate::failure::Failure;
use crate::output::Output;
use crate::plan::robot;

/// Writes them in the form asked for.
///
/// # Errors
/// Bad input, or a place that cannot be written to.
pub(crate) fn run(order: &GainsOrder) -> Result<(), Failure> {
    let (robot, _) = robot(&order.file, &order.set)?;
    let origin = Origin::new(&robot, &order.date, &order.revision).map_err(|p| *p)?;
    let all = gains(&robot, &|knob, value| knob.format(value));
    let text = match order.format {
        GainsForm::C => gains_header(&robot, &origin, &all),
        GainsForm::Markdown => gains_markdown(&origin, &all),
        GainsForm::Csv => gains_csv(&all),
        GainsForm::Json => {
            let rows: Vec<Value> = all
                .iter()
                .map(|g| {
                    json!({
                        "key": g.key,
                        "label": g.label,
                        "value": g.value,
                        "unit": g.unit.si_symbol(),
                        "words": g.text,
                        "firmware": g.raw,
                        "firmware_unit": g.raw_unit,
                        "firmware_whole": g.raw_whole,
                    })
                })
                .collect();
            let whole = json!({
                "robot": origin.robot,
                "digest": origin.digest,
                "date": origin.date,
                "revision": origin.revision,
                "model_version": origin.model,
                "gains": rows,
            });
            format!("{whole:#}\n")
        }
    };
    Output::at(&order.output)?.finish(&text)
}
