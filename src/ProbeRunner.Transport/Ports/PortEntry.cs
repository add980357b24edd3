namespace ProbeRunner.Transport.Ports;

/// <summary>A serial port of this computer.</summary>
/// <param name="Device">Its device, which may change when it is plugged in again.</param>
/// <param name="StableName">A name that stays with the plugged-in hardware; the device where there is none.</param>
/// <param name="Product">What the hardware calls itself, raw; null when it says nothing.</param>
/// <param name="VendorId">The USB vendor number, four hexadecimal digits; null when it is no USB device.</param>
/// <param name="ProductId">The USB product number, four hexadecimal digits; null when it is no USB device.</param>
/// <param name="SerialNumber">The hardware's serial number, raw; null when it has none.</param>
public sealed record PortEntry(
    string Device, string StableName, string? Product, string? VendorId, string? ProductId, string? SerialNumber);
