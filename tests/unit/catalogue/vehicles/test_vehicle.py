"""What things usually come in."""

from app.catalogue.vehicles.vehicle import NO_VEHICLES, Vehicles


def test_a_drug_nobody_entered_has_no_usual_vehicle(vehicles: Vehicles) -> None:
    assert vehicles.get("moonlight") is None
    assert len(NO_VEHICLES) == 0 and NO_VEHICLES.get("meropenem") is None


def test_twenty_five_common_drugs_and_blood_are_known(vehicles: Vehicles) -> None:
    keys = {vehicle.key for vehicle in vehicles}
    assert len(keys) >= 25
    assert keys >= {"paracetamol", "pantoprazole", "fluconazole", "aciclovir", "levetiracetam",
                    "norepinephrine", "propofol", "insulin", "heparin", "potassium_chloride",
                    "magnesium_sulfate", "albumin", "red_cells", "plasma", "platelets"}  # fmt: skip


def test_an_infusion_that_runs_all_day_has_no_usual_volume(vehicles: Vehicles) -> None:
    running = [vehicle for vehicle in vehicles if vehicle.runs_all_day]
    assert running
    assert all(vehicle.volume_ml is None for vehicle in running)


def test_no_amount_of_an_electrolyte_is_ever_usual(vehicles: Vehicles) -> None:
    for key in ("potassium_chloride", "magnesium_sulfate", "calcium_gluconate"):
        vehicle = vehicles.get(key)
        assert vehicle and vehicle.dose_g is None
