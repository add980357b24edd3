using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Draws whatever picture a state is of.</summary>
internal static class Picture
{
    /// <summary>Draws a picture into an area of a canvas and nowhere else; any size will do, what does not fit is left out.</summary>
    public static void Draw(CellCanvas canvas, Rect area, PictureState state, Palette palette)
    {
        CellCanvas part = canvas.Part(area);
        if (part.Area.IsEmpty)
        {
            return;
        }

        part.Clear();
        switch (state)
        {
            case SeriesState series:
                SeriesPicture.Draw(part, series, palette);
                break;
            case StepDownState stepDown:
                StepDownPicture.Draw(part, stepDown, palette);
                break;
            case MapState map:
                MapPicture.Draw(part, map, palette);
                break;
            case ScrewsState screws:
                ScrewsPicture.Draw(part, screws, palette);
                break;
            case FirstLayerState layer:
                FirstLayerPicture.Draw(part, layer, palette);
                break;
            case WarmUpState warmUp:
                WarmUpPicture.Draw(part, warmUp, palette);
                break;
            case TouchTuningState tuning:
                TouchTuningPicture.Draw(part, tuning, palette);
                break;
            case LeanState lean:
                LeanPicture.Draw(part, lean, palette);
                break;
            case ProfileState profile:
                ProfilePicture.Draw(part, profile, palette);
                break;
            case ConclusionsState conclusions:
                ConclusionsPicture.Draw(part, conclusions, palette);
                break;
            case CompareState compare:
                ComparePicture.Draw(part, compare, palette);
                break;
            case GapState gap:
                GapPicture.Draw(part, gap, palette);
                break;
        }
    }
}
