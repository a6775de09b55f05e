# SPDX-License-Identifier: MIT
# Debian packages: `cpack -G DEB` in the build folder. The program with its manual and completions is one, the library for those who build on it another.
if(NOT PROJECT_IS_TOP_LEVEL)
  return()
endif()
# The day of the version, not of the build, stands on all that carries a date.
file(STRINGS ${PROJECT_SOURCE_DIR}/include/curdwright/version.hpp release_line REGEX "release_date")
string(REGEX REPLACE ".*\"([0-9-]+)\".*" "\\1" release_date "${release_line}")
execute_process(COMMAND date -u -d "${release_date}" +%s OUTPUT_VARIABLE CURDWRIGHT_EPOCH OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${CMAKE_COMMAND} -E env LC_ALL=C date -u -d "${release_date}" "+%a, %d %b %Y 00:00:00 +0000" OUTPUT_VARIABLE CURDWRIGHT_MAIL_DATE OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
set(CURDWRIGHT_MAINTAINER "The founders of curdwright <packages@curdwright.invalid>")
get_filename_component(CURDWRIGHT_NLOPT_NOTICE "${NLopt_DIR}/../../../share/doc/nlopt/copyright" ABSOLUTE)
foreach(file changelog copyright)
  configure_file(${CMAKE_CURRENT_LIST_DIR}/debian/${file}.in ${CMAKE_CURRENT_BINARY_DIR}/debian/${file} @ONLY)
endforeach()
configure_file(${CMAKE_CURRENT_LIST_DIR}/finish_package.cmake.in ${CMAKE_CURRENT_BINARY_DIR}/finish_package.cmake @ONLY)

set(CPACK_GENERATOR DEB)
set(CPACK_PROJECT_CONFIG_FILE ${CMAKE_CURRENT_BINARY_DIR}/finish_package.cmake)
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_BINARY_DIR}/finish_package.cmake)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT "${CURDWRIGHT_MAINTAINER}")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES TRUE)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_COMPRESSION_TYPE xz)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME curdwright)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
# Only a named time zone needs the tables.
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS tzdata)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SUGGESTS "bash-completion, man-db")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libcurdwright-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS "libnlopt-dev (>= 2.7), libexpected-dev, libboost-dev (>= 1.74)")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION "From a short recipe to a sheet to cook from: how much dry legume for the
blocks wanted, how much water, how long to soak, settle, cook and press, how
much coagulant, how to chill safely, and what comes out, with how sure it is.
For soy and, above all, for the legumes that are not soy.")
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION "The model behind the program curdwright as a static library with headers:
mass balances, heat and settling as pure functions, beliefs, plans, sheets.
It touches no file, clock or environment.")
include(CPack)
