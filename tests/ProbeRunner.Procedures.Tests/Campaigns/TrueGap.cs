using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Campaigns;

/// <summary>What a first layer all over the bed would truly be laid over.</summary>
internal static class TrueGap
{
    private const double RowMm = 5;
    private const double StepMm = 2.5;

    /// <summary>
    /// The correction of the nozzle's height that centres the gap over the printable area as the bed is now, mm: the mean of what the mesh leaves,
    /// along rows to and fro as a layer is laid. Where the mesh lifts the nozzle it rides lower by the backlash than where it comes from above.
    /// </summary>
    public static double WantedMm(Truth truth, MachineProfile profile, TravelScenario travel)
    {
        BedRectangle area = profile.Bed.Printable;
        int rows = (int)((area.MaxY - area.MinY) / RowMm), steps = (int)((area.MaxX - area.MinX) / StepMm);
        (double sum, double nozzle) = (0, double.PositiveInfinity);
        for (int row = 0; row < rows; row++)
        {
            double y = area.MinY + ((area.MaxY - area.MinY) * (row + 0.5) / rows);
            for (int step = 0; step < steps; step++)
            {
                int along = row % 2 == 0 ? step : steps - 1 - step;
                double x = area.MinX + ((area.MaxX - area.MinX) * (along + 0.5) / steps);
                double motor = TrueMesh.At(truth, profile.Mesh, x, y);
                nozzle = Math.Clamp(nozzle, motor, motor + travel.BacklashZMm);
                sum += truth.ContactHeightAt(x, y) + travel.BacklashZMm - nozzle;
            }
        }

        return sum / (rows * steps);
    }
}
