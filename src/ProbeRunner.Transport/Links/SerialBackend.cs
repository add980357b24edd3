namespace ProbeRunner.Transport.Links;

/// <summary>Which class opens a serial device.</summary>
public enum SerialBackend
{
    /// <summary>The plain descriptor on Linux, the framework's serial port elsewhere.</summary>
    Automatic,

    /// <summary>A plain descriptor of the operating system; Linux only.</summary>
    Descriptor,

    /// <summary>The framework's serial port.</summary>
    SerialPort,
}
