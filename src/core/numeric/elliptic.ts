/**
 * Complete elliptic integrals as functions of the complementary parameter m1 = 1 - m = 1 - k^2, 0 < m1 <= 1.
 * m1 and not m: near a ring the parameter goes to 1 and 1 - m would lose every digit that matters.
 * Form A(m1) - ln(m1) B(m1) with polynomials of degree 10 (Cody 1965, Math. Comp. 19:105, from memory; held against
 * the arithmetic-geometric mean in the test beside this file).
 */
export function ellipticK(m1: number): number {
  const a =
    1.3862943611198906 +
    m1 *
      (0.09657359028116902 +
        m1 *
          (0.0308851465246712 +
            m1 *
              (0.014938044891680526 +
                m1 *
                  (0.008790782739527438 +
                    m1 *
                      (0.006189010336376876 +
                        m1 *
                          (0.006874896874499499 +
                            m1 *
                              (0.00985821379021226 +
                                m1 *
                                  (0.007974040132204152 +
                                    m1 * (0.002280257240058756 + m1 * 0.00013798286460627325)))))))));
  const b =
    0.5 +
    m1 *
      (0.12499999999987083 +
        m1 *
          (0.07031249969639575 +
            m1 *
              (0.04882803475709983 +
                m1 *
                  (0.037377431417382326 +
                    m1 *
                      (0.030120471522760404 +
                        m1 *
                          (0.023908960271592488 +
                            m1 *
                              (0.01548505166497624 +
                                m1 *
                                  (0.005940583037531678 +
                                    m1 * (0.0009141847238659173 + m1 * 2.940789550485985e-5)))))))));
  return a - Math.log(m1) * b;
}

/** Complete elliptic integral of the second kind, as a function of m1 = 1 - m; E = 1 at m1 = 0. */
export function ellipticE(m1: number): number {
  if (m1 === 0) return 1;
  const a =
    1 +
    m1 *
      (0.44314718056099084 +
        m1 *
          (0.05680519456178606 +
            m1 *
              (0.021831799601555724 +
                m1 *
                  (0.011568843681057412 +
                    m1 *
                      (0.007583952894135147 +
                        m1 *
                          (0.007773954925167871 +
                            m1 *
                              (0.010735094905607619 +
                                m1 *
                                  (0.008687868165658896 +
                                    m1 * (0.0025088849216360204 + m1 * 0.0001535525773010133)))))))));
  const b =
    m1 *
    (0.2499999999998883 +
      m1 *
        (0.09374999971976443 +
          m1 *
            (0.0585936634471101 +
              m1 *
                (0.04271809265189315 +
                  m1 *
                    (0.03348339048882249 +
                      m1 *
                        (0.026176974245449364 +
                          m1 *
                            (0.016886216399331133 +
                              m1 *
                                (0.006506094899769275 +
                                  m1 * (0.0010096279267935672 + m1 * 3.2795489857648585e-5)))))))));
  return a - Math.log(m1) * b;
}
