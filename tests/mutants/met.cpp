// Compiled by mutants.py into its program of tests: which changes a test case came by.
#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>

extern unsigned char mutant_met[MOST_MUTANTS];

namespace {

struct Met : doctest::IReporter {
  explicit Met(const doctest::ContextOptions&) {}
  void report_query(const doctest::QueryData&) override {}
  void test_run_start() override { std::copy(std::begin(mutant_met), std::end(mutant_met), always_); }
  void test_run_end(const doctest::TestRunStats&) override {}
  void test_case_start(const doctest::TestCaseData& test) override {
    name_ = test.m_name;
    std::copy(std::begin(always_), std::end(always_), mutant_met);
    begun_ = std::chrono::steady_clock::now();
  }
  void test_case_reenter(const doctest::TestCaseData&) override {}
  void test_case_end(const doctest::CurrentTestCaseStats&) override {
    const char* path = std::getenv("MUTANTS_MET_BY_CASE");
    if (path == nullptr) return;
    std::ofstream out(path, std::ios::app);
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - begun_;
    out << name_ << '\t' << taken.count();
    for (int k = 1; k < MOST_MUTANTS; ++k) {
      if (mutant_met[k] != 0) out << '\t' << k;
    }
    out << '\n';
  }
  void test_case_exception(const doctest::TestCaseException&) override {}
  void subcase_start(const doctest::SubcaseSignature&) override {}
  void subcase_end() override {}
  void log_assert(const doctest::AssertData&) override {}
  void log_message(const doctest::MessageData&) override {}
  void test_case_skipped(const doctest::TestCaseData&) override {}

 private:
  const char* name_ = "";
  unsigned char always_[MOST_MUTANTS] = {};  // what every program comes by before it begins
  std::chrono::steady_clock::time_point begun_;
};

DOCTEST_REGISTER_LISTENER("met", 1, Met);

}  // namespace
