using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Surfaces;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// Watches a capture for readings that can't belong to the bed so far. A single one may be dirt or a burr and is kept, marked; several places in a row
/// mean that the plate or the machine has moved, and going on would only spoil the night.
/// </summary>
internal sealed class JumpWatch(double jumpMm)
{
    private const int MostInARow = 3;

    /// <summary>Neighbours are looked for among so many readings: two rows of the widest grid.</summary>
    private const int MostRemembered = 512;

    private readonly Queue<SurfacePoint> _believed = new();
    private readonly List<double> _row = [];

    /// <summary>Whether a touch must be repeated before it is believed.</summary>
    public bool IsOdd(Reading touch) => By(touch) is { } by && Math.Abs(by) > jumpMm;

    /// <summary>Takes in what the touches of a place came to.</summary>
    /// <exception cref="StepFailedException">Three places in a row stay off their neighbours.</exception>
    public void Settle(Reading place)
    {
        if (IsOdd(place))
        {
            _row.Add(By(place)!.Value);
            StopWhenMoved(place);
            return;
        }

        _row.Clear();
        _believed.Enqueue(PointOf(place));
        if (_believed.Count > MostRemembered)
        {
            _believed.Dequeue();
        }
    }

    private void StopWhenMoved(Reading place)
    {
        if (_row.Count >= MostInARow)
        {
            throw new StepFailedException(FormattableString.Invariant(
                $"{MostInARow} places in a row, the last at x {place.Place.X:0}, y {place.Place.Y:0}, read {_row.Average():+0.00;-0.00} mm off their neighbours, and again when they were touched again. The plate or the machine has moved, or something lies on the bed. The run stopped safely; look, home again and capture anew."));
        }
    }

    private double? By(Reading touch) => jumpMm > 0 ? Jump.Against(_believed, PointOf(touch)) : null;

    private static SurfacePoint PointOf(Reading reading) => new(reading.Place.X, reading.Place.Y, reading.Z);
}
