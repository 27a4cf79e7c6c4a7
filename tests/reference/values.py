"""Writes the values that general-purpose libraries give for what the figures crate works out, as JSON.

Each row: id, the library it comes from, what is asked, the value, its unit, the tolerance and why it is not less.
Ten figures that count are written, so that the last bits of a machine play no part.
"""

import json
import random
import sys

import CoolProp
import CoolProp.CoolProp as cp
import fluids
import fluids.piping
import numpy
import pint
import scipy
import scipy.optimize

UNITS = pint.UnitRegistry()
PINT = f"pint {pint.__version__}"
FLUIDS = f"fluids {fluids.__version__}"
COOLPROP = f"CoolProp {CoolProp.__version__}"
SCIPY = f"scipy {scipy.__version__}"

# the same definitions on both sides: nothing but rounding
ROUNDING = (1e-9, "rounding")
SEVEN = (3e-7, "the unit library of the program keeps seven figures")
ROWS = []


def row(identity, library, inputs, value, unit, tolerance):
    """Adds a row; the tolerance is a share of the value, or a size of its own where the third item says so."""
    ROWS.append(
        {
            "id": identity,
            "from": library,
            "inputs": inputs,
            "value": float(f"{value:.10g}"),
            "unit": unit,
            "tolerance": tolerance[0],
            "absolute": len(tolerance) > 2,
            "why": tolerance[1],
        }
    )


def units():
    """Units as a sheet writes them, in SI."""
    inch_of_mercury = (1e-6, "both round the density of mercury")
    for text, unit, si, tolerance in [
        ("1 in", "inch", "m", ROUNDING),
        ("1 ft", "foot", "m", ROUNDING),
        ("1 mile", "mile", "m", ROUNDING),
        ("1 in2", "inch**2", "m**2", ROUNDING),
        ("1 in3", "inch**3", "m**3", SEVEN),
        ("1 US gal", "gallon", "m**3", SEVEN),
        ("1 US qt", "quart", "m**3", SEVEN),
        ("1 lb", "pound", "kg", SEVEN),
        ("1 lbf", "pound_force", "N", SEVEN),
        ("1 psi", "psi", "Pa", SEVEN),
        ("1 bar", "bar", "Pa", ROUNDING),
        ("1 inHg", "inch_Hg", "Pa", inch_of_mercury),
        ("1 deg", "degree", "rad", ROUNDING),
        ("1 mph", "mile/hour", "m/s", ROUNDING),
        ("1 km/h", "kilometer/hour", "m/s", ROUNDING),
        ("1 lbf·ft", "pound_force*foot", "N*m", SEVEN),
        ("1 hp", "horsepower", "W", SEVEN),
        ("1 Ah", "ampere_hour", "C", ROUNDING),
        ("1 cfm", "foot**3/minute", "m**3/s", SEVEN),
        ("1 US gph", "gallon/hour", "m**3/s", SEVEN),
        ("1 rpm", "revolution/minute", "rad/s", ROUNDING),
        ("1 lbf/in", "pound_force/inch", "N/m", SEVEN),
    ]:
        value = UNITS.Quantity(1, unit).to(si).magnitude
        row("unit", PINT, {"text": text}, value, si, tolerance)
    for fahrenheit in (-40, 32, 180, 265):
        value = UNITS.Quantity(fahrenheit, "degF").to("degC").magnitude
        near_zero = (1e-7, "rounding, about zero", "absolute")
        row("unit", PINT, {"text": f"{fahrenheit} °F"}, round(value, 8) + 0.0, "degC", near_zero)


def engine():
    """Figures that are nothing but units."""
    for torque, rpm in ((180, 3000), (210, 2000)):
        watt = (torque * UNITS("lbf*ft") * rpm * UNITS("revolution/minute")).to("W").magnitude
        row("power", PINT, {"torque_lbf_ft": torque, "rpm": rpm}, watt, "W", SEVEN)
    for inch3, rpm, filling in ((235, 3800, 0.75), (350, 5500, 0.85)):
        air = (inch3 * UNITS("inch**3") * filling * rpm / 2 / UNITS("minute")).to("m**3/s").magnitude
        row("air-flow", PINT, {"in3": inch3, "rpm": rpm, "filling": filling}, air, "m**3/s", SEVEN)
    for mph, diameter, axle, gear in ((60, 28.0, 3.73, 1.0), (45, 31.0, 4.11, 1.68)):
        turns = mph * UNITS("mile/hour") / (3.141592653589793 * diameter * UNITS("inch"))
        rpm = (turns * axle * gear).to("1/minute").magnitude
        row("engine-speed", PINT, {"mph": mph, "diameter_in": diameter, "axle": axle, "gear": gear}, rpm, "1/min", ROUNDING)
    for grams, horsepower in ((300, 120), (280, 60)):
        fuel = (horsepower * UNITS("horsepower") * grams * UNITS("g/kWh") / (745 * UNITS("kg/m**3"))).to("m**3/s")
        row("fuel-for-power", PINT, {"g_kwh": grams, "hp": horsepower}, fuel.magnitude, "m**3/s", SEVEN)


def gauges():
    """Diameters by American wire gauge."""
    for gauge in (1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22):
        diameter = fluids.piping.t_from_gauge(gauge, schedule="AWG")
        table = (1.3e-6, "the table is rounded to 0.0001 in", "absolute")
        row("awg-diameter", FLUIDS, {"gauge": gauge}, diameter, "m", table)


def air():
    """The standard atmosphere."""
    for altitude in (0, 500, 1600, 3000, 5000, 10000):
        found = fluids.ATMOSPHERE_1976(altitude)
        close = (1e-8, "rounding")
        row("air-density", FLUIDS, {"altitude_m": altitude}, found.rho, "kg/m**3", close)
        row("air-pressure", FLUIDS, {"altitude_m": altitude}, found.P, "Pa", close)


def water():
    """Saturation of water."""
    for kilopascal in (70.0, 84.0, 101.325, 130.0, 150.0, 204.75):
        kelvin = cp.PropsSI("T", "P", kilopascal * 1e3, "Q", 0, "Water")
        other = (0.003, "IAPWS-95 against IAPWS-IF97", "absolute")
        row("water-boiling", COOLPROP, {"kpa": kilopascal}, kelvin - 273.15, "degC", other)


def glycol():
    """Ethylene glycol and water, share by volume."""
    for percent in (10, 20, 25, 30, 35, 40, 45, 50, 55, 60):
        kelvin = cp.PropsSI("T_FREEZE", "T", 300, "P", 101325, f"INCOMP::AEG[{percent / 100}]")
        table = (0.001, "the table has hundredths", "absolute")
        row("glycol-freezing", COOLPROP, {"share": percent / 100}, kelvin - 273.15, "degC", table)
    for percent in (13, 33, 48, 57):
        kelvin = cp.PropsSI("T_FREEZE", "T", 300, "P", 101325, f"INCOMP::AEG[{percent / 100}]")
        between = (0.15, "straight lines between the points of a table", "absolute")
        row("glycol-freezing", COOLPROP, {"share": percent / 100}, kelvin - 273.15, "degC", between)
    for percent in (30, 40, 50, 60):
        lines = (2e-3, "straight lines over the share")
        for name, key, unit in (("coolant-density", "D", "kg/m**3"), ("coolant-heat", "C", "J/kg/K")):
            value = cp.PropsSI(key, "T", 363.15, "P", 2e5, f"INCOMP::AEG[{percent / 100}]")
            row(name, COOLPROP, {"share": percent / 100}, value, unit, lines)


def lines():
    """Pressure lost in a fuel line, petrol of 745 kg/m3 and 0.0005 Pa s in drawn tube."""
    for litres_an_hour, bore, length in ((10, 6.35, 4.0), (15, 8.0, 4.0), (90, 6.35, 4.0), (120, 8.0, 5.0), (200, 8.0, 3.0)):
        volume = litres_an_hour / 3.6e6
        lost = fluids.one_phase_dP(m=volume * 745, rho=745, mu=0.0005, D=bore * 1e-3, roughness=1.5e-6, L=length)
        inputs = {"l_h": litres_an_hour, "bore_mm": bore, "length_m": length}
        row("line-loss", FLUIDS, inputs, lost, "Pa", (1e-8, "Colebrook solved by another way"))


def containers():
    """Least money, in hundredths, for containers that hold at least a volume: whole numbers by branch and cut."""
    chance = random.Random(1932)
    metric = [0.25, 0.5, 1.0, 2.0, 4.0, 5.0, 20.0, 25.0]
    american = [round(UNITS.Quantity(n, unit).to("liter").magnitude, 9)
                for n, unit in ((12, "fluid_ounce"), (1, "pint"), (1, "quart"), (1, "gallon"), (5, "gallon"))]
    for number in range(50):
        # sets as they are sold; then a wide choice at nearly one price by the litre, where a hundredth decides
        many = number >= 38
        sizes = chance.sample(metric + american, chance.randint(8, 12) if many else chance.randint(1, 6))
        spread = (1.0, 1.02) if many else (0.7, 1.4)
        prices = [round(20 + 700 * size * chance.uniform(*spread)) for size in sizes]
        wanted = round(chance.choice([1.7, 5.4, 16.1, 60.0, 160.0]) * chance.uniform(0.5, 1.5), 2)
        holds = scipy.optimize.LinearConstraint(numpy.array([sizes]), lb=wanted)
        found = scipy.optimize.milp(prices, constraints=holds, integrality=numpy.ones(len(sizes)),
                                    options={"mip_rel_gap": 0})
        assert found.status == 0, found.message
        inputs = {"litres": wanted, "sizes_l": sizes, "hundredths": prices}
        row("containers", SCIPY, inputs, sum(p * round(n) for p, n in zip(prices, found.x)), "", (0.0, "whole numbers"))


for part in (units, engine, gauges, air, water, glycol, lines, containers):
    part()
json.dump(ROWS, sys.stdout, indent=1, ensure_ascii=False)
sys.stdout.write("\n")
