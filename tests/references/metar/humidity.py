"""Relative humidity from temperature and dew point by PsychroLib 2.5.0 (ice below 0 C, so rows stay above)."""
import psychrolib
psychrolib.SetUnitSystem(psychrolib.SI)
print("temperature_c,dew_point_c,relative_humidity")
for t, td in [(18.2, 15.9), (10, 9), (31, 24), (15, 5), (40, 10), (2, 1)]:
    print(f"{t},{td},{psychrolib.GetRelHumFromTDewPoint(t, td):.6f}")
