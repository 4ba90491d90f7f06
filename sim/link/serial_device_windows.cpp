// A serial port by overlapped reads and writes in the pacer's Asio context. A read is always under
// way, so that its end tells of bytes, and its error that the port went away.
#include <asio/windows/stream_handle.hpp>
#include <asio/write.hpp>
// Asio must come before windows.h.
#include <windows.h>

#include <algorithm>
#include <array>

#include "sim/base/wide_text.h"
#include "sim/link/serial_list_windows.h"
#include "sim/link/serial_refusals.h"
#include "sim/link/wait_engine.h"

namespace understudy {
namespace {

constexpr std::size_t kAheadBytesMax = 16'384;  // then the port's own buffer fills
constexpr std::size_t kWriteBytesMax = 4'096;
// A read ends when it is full or a pause comes; this many bytes are 6 ms at 115200 baud.
constexpr std::size_t kReadBytes = 64;
constexpr DWORD kPause_ms = 1;

BYTE parity_of(Parity parity) {
  switch (parity) {
    case Parity::kEven:
      return EVENPARITY;
    case Parity::kOdd:
      return ODDPARITY;
    case Parity::kNone:
      break;
  }
  return NOPARITY;
}

Parity parity_in(const DCB& block) {
  if (block.Parity == EVENPARITY) return Parity::kEven;
  return block.Parity == ODDPARITY ? Parity::kOdd : Parity::kNone;
}

// Raw, without flow control, DTR and RTS raised. False where the system refuses.
bool put_settings(HANDLE port, const SerialSettings& settings) {
  DCB block{};
  block.DCBlength = sizeof block;
  if (!GetCommState(port, &block)) return false;
  block.BaudRate = static_cast<DWORD>(settings.baud);
  block.ByteSize = static_cast<BYTE>(settings.data_bits);
  block.Parity = parity_of(settings.parity);
  block.StopBits = settings.stop_bits == 2 ? TWOSTOPBITS : ONESTOPBIT;
  block.fBinary = TRUE;
  block.fParity = settings.parity != Parity::kNone;
  block.fOutxCtsFlow = block.fOutxDsrFlow = block.fDsrSensitivity = FALSE;
  block.fOutX = block.fInX = block.fErrorChar = block.fNull = block.fAbortOnError = FALSE;
  block.fDtrControl = DTR_CONTROL_ENABLE;
  block.fRtsControl = RTS_CONTROL_ENABLE;
  // A read waits for its first byte for ever, and for each further one no longer than a pause.
  COMMTIMEOUTS times{kPause_ms, 0, 0, 0, 0};
  return SetCommState(port, &block) && SetCommTimeouts(port, &times);
}

SerialSettings settings_in(HANDLE port) {
  DCB block{};
  block.DCBlength = sizeof block;
  GetCommState(port, &block);
  return {.baud = static_cast<std::int64_t>(block.BaudRate),
          .data_bits = block.ByteSize,
          .parity = parity_in(block),
          .stop_bits = block.StopBits == TWOSTOPBITS ? 2 : 1};
}

class WindowsPort final : public SerialDevice {
 public:
  WindowsPort(Pacer& pacer, HANDLE handle, std::string path)
      : path_(std::move(path)), state_(std::make_shared<State>(pacer.engine(), handle)) {
    read_on(state_);
  }
  ~WindowsPort() override {
    WindowsPort::raise({.dtr = false, .rts = false});
    state_->over = true;
    asio::error_code ignored;
    state_->port.close(ignored);
  }

  bool ready() const override { return !state_->arrived.empty() || state_->gone; }
  std::string read(std::size_t space) override;
  std::size_t write(std::string_view bytes) override;
  std::size_t unsent() override;
  std::optional<SerialLines> lines() override;
  void raise(const ModemLines& lines) override;
  Result<Done> set(const SerialSettings& settings) override;
  bool gone() const override { return state_->gone; }

 private:
  // Shared with the read and the write under way.
  struct State {
    State(WaitEngine& e, HANDLE handle) : engine(&e), port(e.context, handle) {}
    HANDLE handle() { return port.native_handle(); }
    WaitEngine* engine;
    asio::windows::stream_handle port;
    std::array<char, kReadBytes> buffer{};
    std::string arrived;
    std::string leaving;  // empty: no write is under way
    bool reading = false;
    bool gone = false;
    bool over = false;
  };
  static void read_on(const std::shared_ptr<State>& state);

  std::string path_;
  std::shared_ptr<State> state_;
};

void WindowsPort::read_on(const std::shared_ptr<State>& state) {
  if (state->reading || state->gone || state->arrived.size() >= kAheadBytesMax) return;
  state->reading = true;
  state->port.async_read_some(asio::buffer(state->buffer),
                              [state](const asio::error_code& error, std::size_t size) {
                                state->reading = false;
                                if (state->over) return;
                                state->arrived.append(state->buffer.data(), size);
                                // A read that came out empty comes as the end of the stream.
                                state->gone = error && error != asio::error::eof;
                                if (size > 0 || state->gone) state->engine->touched = true;
                                read_on(state);
                              });
}

std::string WindowsPort::read(std::size_t space) {
  const std::size_t size = std::min(space, state_->arrived.size());
  std::string bytes = state_->arrived.substr(0, size);
  state_->arrived.erase(0, size);
  read_on(state_);
  return bytes;
}

std::size_t WindowsPort::write(std::string_view bytes) {
  if (state_->gone || !state_->leaving.empty() || bytes.empty()) return 0;
  state_->leaving = bytes.substr(0, kWriteBytesMax);
  const std::size_t taken = state_->leaving.size();
  asio::async_write(state_->port, asio::buffer(state_->leaving),
                    [state = state_](const asio::error_code& error, std::size_t) {
                      state->leaving.clear();
                      if (state->over) return;
                      if (error) state->gone = true;
                      state->engine->touched = true;
                    });
  return taken;
}

std::size_t WindowsPort::unsent() {
  COMSTAT queues{};
  DWORD errors = 0;
  const bool known = ClearCommError(state_->handle(), &errors, &queues) != 0;
  return std::max<std::size_t>(state_->leaving.size(), known ? queues.cbOutQue : 0);
}

std::optional<SerialLines> WindowsPort::lines() {
  DWORD raised = 0;
  if (state_->gone || !GetCommModemStatus(state_->handle(), &raised)) return std::nullopt;
  return SerialLines{.cts = (raised & MS_CTS_ON) != 0, .dsr = (raised & MS_DSR_ON) != 0};
}

void WindowsPort::raise(const ModemLines& lines) {
  EscapeCommFunction(state_->handle(), lines.dtr ? SETDTR : CLRDTR);
  EscapeCommFunction(state_->handle(), lines.rts ? SETRTS : CLRRTS);
}

Result<Done> WindowsPort::set(const SerialSettings& settings) {
  const SerialSettings before = settings_in(state_->handle());
  std::optional<Error> refused;
  if (!put_settings(state_->handle(), settings))
    refused = refused_otherwise(
        path_, "it does not take " + written(settings) + ": " + system_words(GetLastError()));
  else
    refused = refused_settings(path_, settings, settings_in(state_->handle()));
  if (!refused) return Done{};
  put_settings(state_->handle(), before);
  return *refused;
}

class WindowsPorts final : public SerialPorts {
 public:
  std::vector<SerialPortInfo> list() override { return list_windows_ports(); }
  std::string canonical(const std::string& path) override { return port_name_of(path); }
  Result<std::unique_ptr<SerialDevice>> open(Pacer& pacer, const std::string& path,
                                             const SerialSettings& settings) override;
};

// Why the system did not open it. A port that is taken is told as missing rights here.
Error not_opened(const std::string& path, DWORD reason) {
  switch (reason) {
    case ERROR_ACCESS_DENIED:
    case ERROR_SHARING_VIOLATION:
      return refused_busy(path, {});
    case ERROR_FILE_NOT_FOUND:
    case ERROR_PATH_NOT_FOUND:
    case ERROR_INVALID_NAME:
      return refused_absent(path, "", list_windows_ports());
    default:
      return refused_otherwise(path, system_words(reason));
  }
}

Result<std::unique_ptr<SerialDevice>> WindowsPorts::open(Pacer& pacer, const std::string& path,
                                                         const SerialSettings& settings) {
  const std::string name = port_name_of(path);
  const DWORD kind = GetFileAttributesW(wide_text(path).c_str());
  if (name == path && !name.starts_with("COM") && kind != INVALID_FILE_ATTRIBUTES)
    return refused_kind(path, (kind & FILE_ATTRIBUTE_DIRECTORY) != 0 ? "a folder" : "a file");
  const HANDLE handle =
      CreateFileW((L"\\\\.\\" + wide_text(name)).c_str(), GENERIC_READ | GENERIC_WRITE, 0, nullptr,
                  OPEN_EXISTING, FILE_FLAG_OVERLAPPED, nullptr);
  if (handle == INVALID_HANDLE_VALUE) return not_opened(path, GetLastError());
  if (!put_settings(handle, settings)) {
    const std::string said = system_words(GetLastError());
    CloseHandle(handle);
    return refused_otherwise(path, "it does not take " + written(settings) + ": " + said);
  }
  const std::optional<Error> other = refused_settings(path, settings, settings_in(handle));
  if (other) {
    CloseHandle(handle);
    return *other;
  }
  PurgeComm(handle, PURGE_RXCLEAR | PURGE_TXCLEAR);
  return std::unique_ptr<SerialDevice>(std::make_unique<WindowsPort>(pacer, handle, path));
}

}  // namespace

SerialPorts& system_serial_ports() {
  static WindowsPorts ports;
  return ports;
}

}  // namespace understudy
