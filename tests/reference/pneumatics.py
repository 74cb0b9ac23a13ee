"""Flow by conductance, and the pressure between two restrictions in series (ISO 6358-1:2013).

The flow is written as the standard's quarter ellipse, solved for the flow by a
root of the implicit form, so that no rearranged formula is shared.
"""

from scipy.optimize import brentq

from table import write

DENSITY, TEMPERATURE = 1.185, 293.15  # reference air of the standard, kg/m3 and K
TIGHT = {"xtol": 1e-300, "rtol": 1e-14, "maxiter": 1000}


def flow(conductance, critical_ratio, pressure, back_pressure, temperature):
    """Mass flow in kg/s; conductance in m3/(s Pa)."""
    choked = conductance * pressure * DENSITY * (TEMPERATURE / temperature) ** 0.5
    ratio = back_pressure / pressure
    if ratio <= critical_ratio:
        return choked

    def off_ellipse(share):
        return share**2 + ((ratio - critical_ratio) / (1.0 - critical_ratio)) ** 2 - 1.0

    return choked * brentq(off_ellipse, 0.0, 1.0, **TIGHT)


def between(supply_conductance, supply_critical_ratio, vent_conductance, vent_critical_ratio,
            source, ambient, temperature):
    """The absolute pressure at which as much flows out as in, Pa."""
    def surplus(pressure):
        return (flow(supply_conductance, supply_critical_ratio, source, pressure, temperature)
                - flow(vent_conductance, vent_critical_ratio, pressure, ambient, temperature))

    return brentq(surplus, ambient, source, **TIGHT)


UNIT = 1e-8  # dm3/(s bar) in m3/(s Pa)
FLOWS = [(conductance * UNIT, critical, pressure * 1e3, ratio * pressure * 1e3, temperature)
         for conductance, critical, pressure, temperature in (
             (0.20, 0.40, 200.0, 293.15), (1.50, 0.528, 180.0, 330.0), (0.05, 0.15, 300.0, 273.15))
         for ratio in (0.1, 0.3, 0.5, 0.6, 0.8, 0.95, 1.0)]
BETWEEN = [(supply * UNIT, supply_critical, vent * UNIT, vent_critical, source * 1e3, 100e3, 320.0)
           for supply, supply_critical, vent, vent_critical in (
               (0.20, 0.40, 0.20, 0.40), (0.20, 0.40, 0.05, 0.30), (0.10, 0.50, 0.60, 0.20), (0.30, 0.45, 3.00, 0.45))
           for source in (130.0, 180.0, 250.0, 400.0)]

FLOW_COLUMNS = {
    "conductance": "m3/(s Pa)", "critical_ratio": "1", "pressure": "absolute, Pa", "back_pressure": "absolute, Pa",
    "temperature": "K", "pneumatic_flow": "kg/s",
}
BETWEEN_COLUMNS = {
    "supply_conductance": "m3/(s Pa)", "supply_critical_ratio": "1", "vent_conductance": "m3/(s Pa)",
    "vent_critical_ratio": "1", "source": "absolute, Pa", "ambient": "absolute, Pa", "temperature": "K",
    "canister_pressure": "absolute, Pa",
}

if __name__ == "__main__":
    write("pneumatic_flow.csv", __file__, ["scipy"],
          "Flow of air through a restriction by its conductance (ISO 6358-1, 1.185 kg/m3, 293.15 K, index 0.5).",
          FLOW_COLUMNS, [(*case, flow(*case)) for case in FLOWS])
    write("canister.csv", __file__, ["scipy"],
          "Pressure between two restrictions in series, the same temperature before both.",
          BETWEEN_COLUMNS, [(*case, between(*case)) for case in BETWEEN])
