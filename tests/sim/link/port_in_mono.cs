// A game that uses the serial port class of the .NET family: opens it with DTR and RTS, says that
// it is ready, reads a line with a timeout, lowers DTR. Argument: the port's path.
using System;
using System.IO.Ports;

static class PortInMono
{
    static void Main(string[] arguments)
    {
        var port = new SerialPort(arguments[0], 57600) { ReadTimeout = 5000, NewLine = "\n" };
        port.DtrEnable = true;
        port.RtsEnable = true;
        port.Open();
        port.Write("ready\n");
        Console.WriteLine("read " + port.ReadLine());
        port.DtrEnable = false;
        System.Threading.Thread.Sleep(50);
        port.Close();
    }
}
