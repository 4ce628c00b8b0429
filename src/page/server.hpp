#pragma once

#include <functional>
#include <string>

#include "page/session.hpp"

namespace mendworth::page {

struct ServeOptions {
  int port = 0;                 ///< 0: any that is free
  double linger_seconds = 180;  ///< without a sign of life from the page, once there was one
  std::function<bool()> told_to_end;
  std::function<void(const std::string& address)> ready;  ///< called once with the page's address
};

/// Serves the page to this machine alone, until the page or `told_to_end` says so or the page has been closed for a
/// while. Throws FileError if the port cannot be had.
void serve(Session& session, const ServeOptions& options);

}  // namespace mendworth::page
