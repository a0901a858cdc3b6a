//! What a bad joint in series does to a resistive load.

use super::prelude::*;

calculation! {
    "series-joint": "A bad joint in series with a heater: current, and heat in each";
    inputs {
        HEATER_POWER "P" = Power("heater-power", "Rated power of the load.").between(1.0, 1e6);
        SUPPLY "V" = Voltage("supply-voltage", "Voltage of the supply, and of the rating.");
        JOINT_RESISTANCE "R_joint" = Resistance("joint-resistance", "Ohms of the joint.").between(0.0, 1e6);
    }
    outputs {
        ELEMENT_RESISTANCE "R" = Resistance("element-resistance", "Ohms of the load.");
        NORMAL_CURRENT "I_normal" = Current("normal-current", "Current without the joint's ohms.");
        TOTAL_RESISTANCE = Resistance("total-resistance", "Load and joint.");
        FAULT_CURRENT "I" = Current("fault-current", "Current with them.");
        ELEMENT_POWER "P_element" = Power("element-power", "Left in the load.");
        JOINT_HEAT "P_joint" = Power("joint-heat", "Made in the joint.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (power, supply, bad) = (
        sheet.need(HEATER_POWER)?,
        sheet.need(SUPPLY)?,
        sheet.need(JOINT_RESISTANCE)?,
    );
    let element = sheet.give(ELEMENT_RESISTANCE, supply.squared() / power);
    let normal = sheet.give(NORMAL_CURRENT, supply / element);
    sheet.output(TOTAL_RESISTANCE, element + bad);
    let fault = sheet.give(FAULT_CURRENT, supply / (element + bad));
    sheet.give(ELEMENT_POWER, fault.squared() * element);
    let heat = sheet.give(JOINT_HEAT, fault.squared() * bad);
    sheet.source("Ohm's and Joule's laws");
    let found = format!("the joint makes {heat} of heat while the current falls from {normal} to {fault}");
    sheet.verdict(WORKED_OUT, found)
}
