namespace ProbeRunner.Metrology.Tests.Data;

public sealed class VolcanoTests
{
    [Fact] // sums by R 4.2.2
    public void The_volcano_data_are_those_of_R()
    {
        IReadOnlyList<double[]> v = Volcano.Heights;

        Assert.Equal(87, v.Count);
        Assert.All(v, row => Assert.Equal(61, row.Length));
        Assert.Equal(690907, v.Sum(row => row.Sum()));
        Assert.Equal(93488451, v.Sum(row => row.Sum(z => z * z)));
        Assert.Equal(28366488, v.Select((row, i) => i * row.Sum()).Sum());
        Assert.Equal(20485498, v.Sum(row => row.Select((z, j) => j * z).Sum()));
        Assert.Equal((94, 195), (v.Min(row => row.Min()), v.Max(row => row.Max())));
        Assert.Equal((195, 100, 103, 97, 94), (v[19][30], v[0][0], v[0][60], v[86][0], v[86][60]));
    }
}
