using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>How long moves take: from rest to rest at the machine's acceleration, no faster than its axes can.</summary>
internal sealed class Kinematics(TravelScenario travel, ControllerState state)
{
    /// <summary>A feed of Z as the controller will keep it, mm/s.</summary>
    public double FeedZ(double feed) => Math.Min(feed, state.Live.MaxFeedZ);

    /// <summary>Seconds for a straight move at a feed, mm/s.</summary>
    public double Seconds(Axes3 move, double feed)
    {
        var level = Math.Sqrt((move.X * move.X) + (move.Y * move.Y));
        var distance = Math.Sqrt((level * level) + (move.Z * move.Z));
        if (distance == 0)
        {
            return 0;
        }

        var fastest = Math.Min(feed, level > 0 ? travel.MaxFeedXY * distance / level : feed);
        fastest = move.Z != 0 ? Math.Min(fastest, state.Live.MaxFeedZ * distance / Math.Abs(move.Z)) : fastest;
        var acceleration = move.Z != 0 ? travel.AccelerationZ : travel.AccelerationXY;
        var reachesFeed = distance > fastest * fastest / acceleration;
        return reachesFeed ? (distance / fastest) + (fastest / acceleration) : 2 * Math.Sqrt(distance / acceleration);
    }
}
