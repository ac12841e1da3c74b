package charge

// The curves that come with the package: volts per cell at rest, 25 °C, at 0, 1,
// … 100 % of charge. They are nobody's pack: log your own.
//
// lcoPouch and lfp26650 are Copyright (c) 2018-2021, the PyBaMM team; nmc21700 is
// Copyright (c) 2023, pybop-team; both under the BSD 3-Clause License, whose text
// stands at the end of this file.

// lcoPouch is a lithium-cobalt-oxide pouch cell, computed from the electrode
// functions of Ai et al., J. Electrochem. Soc. 167 (2020) 080534, as given in
// PyBaMM's parameter set Ai2020.
var lcoPouch = []float64{
	3.0000, 3.2192, 3.3388, 3.4239, 3.4893, 3.5421, 3.5825, 3.6095, 3.6250, 3.6337,
	3.6396, 3.6438, 3.6476, 3.6518, 3.6572, 3.6654, 3.6733, 3.6795, 3.6847, 3.6900,
	3.6954, 3.7007, 3.7055, 3.7097, 3.7135, 3.7168, 3.7198, 3.7230, 3.7263, 3.7298,
	3.7331, 3.7362, 3.7392, 3.7422, 3.7451, 3.7481, 3.7510, 3.7539, 3.7567, 3.7593,
	3.7622, 3.7649, 3.7676, 3.7706, 3.7734, 3.7763, 3.7790, 3.7823, 3.7856, 3.7889,
	3.7925, 3.7960, 3.7999, 3.8039, 3.8080, 3.8122, 3.8167, 3.8212, 3.8262, 3.8311,
	3.8365, 3.8420, 3.8478, 3.8540, 3.8607, 3.8675, 3.8752, 3.8830, 3.8913, 3.9001,
	3.9089, 3.9177, 3.9265, 3.9351, 3.9436, 3.9519, 3.9601, 3.9685, 3.9768, 3.9855,
	3.9945, 4.0034, 4.0125, 4.0220, 4.0315, 4.0409, 4.0501, 4.0593, 4.0685, 4.0780,
	4.0879, 4.0979, 4.1078, 4.1180, 4.1281, 4.1384, 4.1488, 4.1594, 4.1700, 4.1836,
	4.2000,
}

// nmc21700 is a 5 Ah NMC811 cell of size 21700, measured; published in PyBOP,
// examples/data. It is full at 4.175 V.
var nmc21700 = []float64{
	2.8723, 2.9605, 3.0280, 3.0956, 3.1631, 3.2001, 3.2268, 3.2536, 3.2803, 3.3037,
	3.3239, 3.3442, 3.3644, 3.3834, 3.3959, 3.4081, 3.4203, 3.4331, 3.4440, 3.4544,
	3.4647, 3.4749, 3.4858, 3.4972, 3.5086, 3.5198, 3.5299, 3.5401, 3.5503, 3.5605,
	3.5688, 3.5763, 3.5839, 3.5915, 3.5984, 3.6040, 3.6096, 3.6153, 3.6209, 3.6261,
	3.6312, 3.6364, 3.6417, 3.6474, 3.6530, 3.6587, 3.6647, 3.6717, 3.6789, 3.6860,
	3.6935, 3.7025, 3.7118, 3.7211, 3.7308, 3.7428, 3.7554, 3.7680, 3.7805, 3.7930,
	3.8064, 3.8197, 3.8331, 3.8446, 3.8543, 3.8640, 3.8738, 3.8829, 3.8911, 3.8992,
	3.9074, 3.9156, 3.9240, 3.9324, 3.9408, 3.9496, 3.9597, 3.9698, 3.9800, 3.9903,
	4.0013, 4.0123, 4.0234, 4.0343, 4.0438, 4.0528, 4.0618, 4.0707, 4.0763, 4.0805,
	4.0848, 4.0890, 4.0935, 4.0983, 4.1032, 4.1080, 4.1156, 4.1291, 4.1425, 4.1586,
	4.1753,
}

// lfp26650 is a lithium-iron-phosphate cell, computed from PyBaMM's parameter set
// Prada2013 with another cell's graphite: a shape, not a measurement.
var lfp26650 = []float64{
	2.0000, 2.2655, 2.4600, 2.6028, 2.7077, 2.7853, 2.8432, 2.8874, 2.9223, 2.9515,
	2.9781, 3.0041, 3.0308, 3.0580, 3.0843, 3.1080, 3.1277, 3.1430, 3.1544, 3.1625,
	3.1685, 3.1730, 3.1765, 3.1797, 3.1827, 3.1857, 3.1890, 3.1926, 3.1966, 3.2010,
	3.2058, 3.2110, 3.2163, 3.2218, 3.2272, 3.2324, 3.2373, 3.2418, 3.2458, 3.2494,
	3.2525, 3.2551, 3.2574, 3.2593, 3.2608, 3.2621, 3.2632, 3.2641, 3.2649, 3.2655,
	3.2660, 3.2665, 3.2669, 3.2672, 3.2675, 3.2678, 3.2680, 3.2682, 3.2684, 3.2686,
	3.2688, 3.2690, 3.2692, 3.2694, 3.2697, 3.2700, 3.2703, 3.2708, 3.2715, 3.2726,
	3.2740, 3.2761, 3.2791, 3.2829, 3.2875, 3.2926, 3.2975, 3.3018, 3.3053, 3.3079,
	3.3097, 3.3110, 3.3118, 3.3124, 3.3129, 3.3132, 3.3134, 3.3136, 3.3138, 3.3140,
	3.3142, 3.3143, 3.3145, 3.3148, 3.3153, 3.3164, 3.3193, 3.3274, 3.3502, 3.4150,
	3.6000,
}

// Redistribution and use in source and binary forms, with or without
// modification, are permitted provided that the following conditions are met:
//
// * Redistributions of source code must retain the above copyright notice, this
//   list of conditions and the following disclaimer.
//
// * Redistributions in binary form must reproduce the above copyright notice,
//   this list of conditions and the following disclaimer in the documentation
//   and/or other materials provided with the distribution.
//
// * Neither the name of the copyright holder nor the names of its
//   contributors may be used to endorse or promote products derived from
//   this software without specific prior written permission.
//
// THIS SOFTWARE IS PROVIDED BY THE COPYRIGHT HOLDERS AND CONTRIBUTORS "AS IS"
// AND ANY EXPRESS OR IMPLIED WARRANTIES, INCLUDING, BUT NOT LIMITED TO, THE
// IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS FOR A PARTICULAR PURPOSE ARE
// DISCLAIMED. IN NO EVENT SHALL THE COPYRIGHT HOLDER OR CONTRIBUTORS BE LIABLE
// FOR ANY DIRECT, INDIRECT, INCIDENTAL, SPECIAL, EXEMPLARY, OR CONSEQUENTIAL
// DAMAGES (INCLUDING, BUT NOT LIMITED TO, PROCUREMENT OF SUBSTITUTE GOODS OR
// SERVICES; LOSS OF USE, DATA, OR PROFITS; OR BUSINESS INTERRUPTION) HOWEVER
// CAUSED AND ON ANY THEORY OF LIABILITY, WHETHER IN CONTRACT, STRICT LIABILITY,
// OR TORT (INCLUDING NEGLIGENCE OR OTHERWISE) ARISING IN ANY WAY OUT OF THE USE
// OF THIS SOFTWARE, EVEN IF ADVISED OF THE POSSIBILITY OF SUCH DAMAGE.
