using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Engine;

/// <summary>A step's only door to the world.</summary>
public interface IWorkbench
{
    /// <summary>
    /// Performs a request and makes the fact durable before it returns. In a resumed run a recorded fact is returned instead,
    /// after its request was compared with this one.
    /// </summary>
    /// <exception cref="ResumeRefusedException">The record holds another request here.</exception>
    Task<TReply> DoAsync<TReply>(Request<TReply> request);

    /// <summary>Runs the body of a section, again if an interruption makes that necessary. Sections don't nest.</summary>
    Task<T> InSectionAsync<T>(Section section, Func<Task<T>> body);
}
