#include <stdexcept>
#include <string>

#include <doctest/doctest.h>

#include "cli/row_pool.hpp"

namespace {

using mendworth::cli::RowPool;

}  // namespace

TEST_CASE("row pool: results come in the order of the lines, on any number of threads") {
  for (const int threads : {1, 2, 7}) {
    CAPTURE(threads);
    std::string wanted, got;
    RowPool pool(
        threads, [](const std::string& line) { return line + "!\n"; },
        [&got](const std::string& results) {
          got += results;
          return true;
        });
    for (int i = 0; i < 500; ++i) {
      wanted += std::to_string(i) + "!\n";
      REQUIRE(pool.add(std::to_string(i)));
    }
    pool.finish();
    CHECK(got == wanted);
  }
}

TEST_CASE("row pool: stops where nothing more is wanted, and where work fails") {
  int taken = 0;
  {
    RowPool pool(
        2, [](const std::string& line) { return line; },
        [&taken](const std::string&) {
          ++taken;
          return false;
        });
    while (pool.add("x")) {
    }
    pool.finish();
  }
  CHECK(taken == 1);
  RowPool failing(
      2, [](const std::string& line) -> std::string { throw std::runtime_error(line); },
      [](const std::string&) { return true; });
  while (failing.add("no")) {
  }
  CHECK_THROWS_WITH_AS(failing.finish(), "no", std::runtime_error);
}
